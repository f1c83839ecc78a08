/** Screens over more than one visit, loaded together. */
export { LookOverVisits } from './look-line';
export { AgreementScreen } from './agreement-screen';
export { OverTimeScreen } from './over-time-screen';
