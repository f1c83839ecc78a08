/** Screens over more than one visit, loaded together. */
export { AgreementScreen } from './agreement-screen';
export { OverTimeScreen } from './over-time-screen';
