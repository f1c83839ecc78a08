import { lazy, Route, Router } from 'preact-iso';
import { Today } from '../clients/today';
import { Page } from '../parts';
import { SignIn } from '../people/sign-in';

// The way in and the day's list come with the first script; all else when it
// is first opened. The service worker has every part on the tablet already.
const ClientScreen = lazy(() => import('../clients/client-screen').then((m) => m.ClientScreen));
const NewClient = lazy(() => import('../clients/new-client').then((m) => m.NewClient));
const SyncScreen = lazy(() => import('../clients/sync-screen').then((m) => m.SyncScreen));
const AboutScreen = lazy(() => import('../results/about-screen').then((m) => m.AboutScreen));
const LevelScreen = lazy(() => import('../results/level-screen').then((m) => m.LevelScreen));
const CaseloadScreen = lazy(() => import('../caseload/caseload-screen').then((m) => m.CaseloadScreen));
const PeopleScreen = lazy(() => import('../people/people-screen').then((m) => m.PeopleScreen));
const OverTimeScreen = lazy(() => import('../trend').then((m) => m.OverTimeScreen));
const AgreementScreen = lazy(() => import('../trend').then((m) => m.AgreementScreen));
const StartVisitScreen = lazy(() => import('../visit').then((m) => m.StartVisitScreen));
const VisitMapScreen = lazy(() => import('../visit').then((m) => m.VisitMapScreen));
const PartScreen = lazy(() => import('../visit').then((m) => m.PartScreen));
const SetupScreen = lazy(() => import('../visit').then((m) => m.SetupScreen));
const NotesScreen = lazy(() => import('../visit').then((m) => m.NotesScreen));
const MissingScreen = lazy(() => import('../visit').then((m) => m.MissingScreen));
const SignScreen = lazy(() => import('../visit').then((m) => m.SignScreen));
const MeasureScreen = lazy(() => import('../visit').then((m) => m.MeasureScreen));
const TrialScreen = lazy(() => import('../visit').then((m) => m.TrialScreen));
const KitScreen = lazy(() => import('../kit').then((m) => m.KitScreen));
const ControlScreen = lazy(() => import('../kit').then((m) => m.ControlScreen));
const NeedsScreen = lazy(() => import('../kit').then((m) => m.NeedsScreen));
const ControlsScreen = lazy(() => import('../kit').then((m) => m.ControlsScreen));
const StrainScreen = lazy(() => import('../kit').then((m) => m.StrainScreen));
const HomeScreen = lazy(() => import('../home').then((m) => m.HomeScreen));
const PlaceScreen = lazy(() => import('../home').then((m) => m.PlaceScreen));
const SettingsScreen = lazy(() => import('../settings').then((m) => m.SettingsScreen));
const MountScreen = lazy(() => import('../settings').then((m) => m.MountScreen));

function NotFound() {
  return (
    <Page title="There is no such screen" back={{ href: '/', label: 'Today' }}>
      <p>The address may be from an older version of Doorsill, or a letter is missing.</p>
    </Page>
  );
}

export function Routes() {
  return (
    <Router>
      <Route path="/" component={Today} />
      <Route path="/sign-in" component={SignIn} />
      <Route path="/clients/new" component={NewClient} />
      <Route path="/clients/:id" component={ClientScreen} />
      <Route path="/clients/:id/visit" component={StartVisitScreen} />
      <Route path="/clients/:id/over-time" component={OverTimeScreen} />
      <Route path="/visits/:id" component={VisitMapScreen} />
      <Route path="/visits/:id/part/:code" component={PartScreen} />
      <Route path="/visits/:id/measure/:what" component={MeasureScreen} />
      <Route path="/visits/:id/trial" component={TrialScreen} />
      <Route path="/visits/:id/setup" component={SetupScreen} />
      <Route path="/visits/:id/notes" component={NotesScreen} />
      <Route path="/visits/:id/missing" component={MissingScreen} />
      <Route path="/visits/:id/level" component={LevelScreen} />
      <Route path="/visits/:id/needs" component={NeedsScreen} />
      <Route path="/visits/:id/controls" component={ControlsScreen} />
      <Route path="/visits/:id/strain" component={StrainScreen} />
      <Route path="/visits/:id/home" component={HomeScreen} />
      <Route path="/visits/:id/home/:place" component={PlaceScreen} />
      <Route path="/visits/:id/settings" component={SettingsScreen} />
      <Route path="/visits/:id/mount" component={MountScreen} />
      <Route path="/visits/:id/sign" component={SignScreen} />
      <Route path="/caseload" component={CaseloadScreen} />
      <Route path="/agreement" component={AgreementScreen} />
      <Route path="/kit" component={KitScreen} />
      <Route path="/kit/:id" component={ControlScreen} />
      <Route path="/sync" component={SyncScreen} />
      <Route path="/people" component={PeopleScreen} />
      <Route path="/about" component={AboutScreen} />
      <Route default component={NotFound} />
    </Router>
  );
}
