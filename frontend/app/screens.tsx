/**
 * Every screen but the way in and the day's list, and what the frame needs only
 * after the first paint. They travel as one script:
 * cut into many, each would be packed alone and all of them weigh a sixth more.
 * For the same reason it names the app's start, which runs once all the same:
 * the bundler then keeps all of the first script in one piece, and likewise what
 * runs once the tablet is unlocked.
 */
import { StrainScreen } from '../features/kit/strain-screen';
import { TabletPart } from '../features/lock/tablet-part';
import { PeopleScreen } from '../features/people/people-screen';
import { LookOverVisits } from '../features/trend/look-line';
import '../lib/session/unlock';
import './start';

export { CaseloadScreen } from '../features/caseload/caseload-screen';
export { ClientScreen } from '../features/clients/client-screen';
export { DisplaySettings } from '../ui/display-settings';
export { DownloadBanners } from '../ui/team-download';
export { NewClient } from '../features/clients/new-client';
export { SyncScreen } from '../features/clients/sync-screen';
export { FirstStart } from './first-start';
export { IdleWarning } from './idle-warning';
export { LeftUnsaved } from './left-unsaved';
export { WithdrawnScreen } from '../features/lock/withdrawn-screen';
export { HomeScreen } from '../features/home/home-screen';
export { PlaceScreen } from '../features/home/place-screen';
export { ControlScreen } from '../features/kit/control-screen';
export { ControlsScreen } from '../features/kit/controls-screen';
export { KitScreen } from '../features/kit/kit-screen';
export { NeedsScreen } from '../features/kit/needs-screen';
export { ByProvider } from '../features/lock/single-sign-on';
export { TabletPassword } from '../features/lock/single-sign-on';
export { AboutScreen } from '../features/results/about-screen';
export { LevelScreen } from '../features/results/level-screen';
export { MeasureScreen } from '../features/measure/measure-screen';
export { TrialScreen } from '../features/measure/trial-screen';
export { MountScreen } from '../features/settings/mount-screen';
export { SettingsScreen } from '../features/settings/settings-screen';
export { PartsScreen } from '../features/parts/parts-screen';
export { AgreementScreen } from '../features/trend/agreement-screen';
export { OverTimeScreen } from '../features/trend/over-time-screen';
export { MissingScreen } from '../features/visit/missing-screen';
export { NotesScreen } from '../features/visit/notes-screen';
export { PartScreen } from '../features/visit/part-screen';
export { SetupScreen } from '../features/visit/setup-screen';
export { SignScreen } from '../features/visit/sign-screen';
export { StartVisitScreen } from '../features/visit/start-screen';
export { VisitMapScreen } from '../features/visit/map-screen';
export { VisitFoot } from '../features/visit/visit-foot';
export { VisitRail } from '../features/visit/visit-rail';
export { VisitTools } from '../ui/visit/visit-tools';
export { SignOutDialog } from './sign-out-dialog';
export { StateLines } from '../ui/tablet-state/state-lines';
export { watchStates } from '../ui/tablet-state/state-now';
export { keepUpToDate } from '../ui/tablet-state/update';
/** Keys, rows and sending: with the screens, since each needs the other. */
export * as unlock from '../lib/session/unlock';

/** One's account, and how this tablet locks and opens for oneself. Two features know nothing of each other: they are put together here. */
export function AccountScreen() {
  return <PeopleScreen tablet={<TabletPart />} />;
}

/** The strain of driving, with the date that follows from all visits. */
export function StrainOverTimeScreen(props: { readonly id: string }) {
  return <StrainScreen id={props.id} look={(client) => <LookOverVisits client={client} />} />;
}
