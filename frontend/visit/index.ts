/**
 * The screens of one visit. Each takes the id from the address; the routes are
 * named in links.ts.
 */
export { VisitMapScreen } from './map-screen';
export { PartScreen } from './part-screen';
export { SetupScreen } from './setup-screen';
export { MissingScreen } from './missing-screen';
export { SignScreen } from './sign-screen';
export { NotesScreen } from './notes-screen';
export { StartVisitScreen } from './start-screen';
export { MeasureScreen } from '../measure/measure-screen';
export { TrialScreen } from '../measure/trial-screen';
export { VisitFrame, useVisit } from './frame';
export { links } from './links';
