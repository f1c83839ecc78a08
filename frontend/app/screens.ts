/**
 * Every screen but the way in and the day's list. They travel as one script:
 * cut into many, each would be packed alone and all of them weigh a sixth more.
 */
export { CaseloadScreen } from '../caseload/caseload-screen';
export { ClientScreen } from '../clients/client-screen';
export { NewClient } from '../clients/new-client';
export { SyncScreen } from '../clients/sync-screen';
export { HomeScreen, PlaceScreen } from '../home';
export { ControlScreen, ControlsScreen, KitScreen, NeedsScreen, StrainScreen } from '../kit';
export { PeopleScreen } from '../people/people-screen';
export { AboutScreen } from '../results/about-screen';
export { LevelScreen } from '../results/level-screen';
export { MountScreen, SettingsScreen } from '../settings';
export { AgreementScreen, OverTimeScreen } from '../trend';
export { MeasureScreen, MissingScreen, NotesScreen, PartScreen, SetupScreen, SignScreen, StartVisitScreen, TrialScreen, VisitMapScreen } from '../visit';
