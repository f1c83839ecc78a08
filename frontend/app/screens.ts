/**
 * Every screen but the way in and the day's list, and what the frame needs only
 * after the first paint. They travel as one script:
 * cut into many, each would be packed alone and all of them weigh a sixth more.
 * For the same reason it names the app's start, which runs once all the same:
 * the bundler then keeps all of the first script in one piece, and likewise what
 * runs once the tablet is unlocked.
 */
import '../store/unlock';
import './start';

export { CaseloadScreen } from '../caseload/caseload-screen';
export { ClientScreen } from '../clients/client-screen';
export { PackingLines } from '../clients/packing';
export { NewClient } from '../clients/new-client';
export { SyncScreen } from '../clients/sync-screen';
export { FirstStart } from './first-start';
export { TypedBack } from '../vault/typed-back';
export { WithdrawnScreen } from '../vault/withdrawn-screen';
export { HomeScreen, PlaceScreen } from '../home';
export { ControlScreen, ControlsScreen, KitScreen, NeedsScreen, StrainScreen } from '../kit';
export { ByProvider } from '../people/by-provider';
export { TabletPassword } from '../people/tablet-password';
export { PeopleScreen } from '../people/people-screen';
export { AboutScreen } from '../results/about-screen';
export { LevelScreen } from '../results/level-screen';
export { MountScreen, SettingsScreen } from '../settings';
export { AgreementScreen, OverTimeScreen } from '../trend';
export {
  MeasureScreen,
  MissingScreen,
  NotesScreen,
  PartScreen,
  SetupScreen,
  SignScreen,
  StartVisitScreen,
  TrialScreen,
  VisitMapScreen,
} from '../visit';
export { LeaveDialog } from './leave-dialog';
export { StateLines } from './state-lines';
export { watchStates } from './state-now';
export { keepUpToDate } from './update';
/** Keys, rows and sending: with the screens, since each needs the other. */
export * as unlock from '../store/unlock';
