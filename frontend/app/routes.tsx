import { Route, Router } from 'preact-iso/router';
import { Today } from '../clients/today';
import { Page } from '../parts/page';
import { SignIn } from '../people/sign-in';
import { screen } from './screen';

const ClientScreen = screen('ClientScreen');
const NewClient = screen('NewClient');
const SyncScreen = screen('SyncScreen');
const AboutScreen = screen('AboutScreen');
const LevelScreen = screen('LevelScreen');
const CaseloadScreen = screen('CaseloadScreen');
const PeopleScreen = screen('PeopleScreen');
const OverTimeScreen = screen('OverTimeScreen');
const AgreementScreen = screen('AgreementScreen');
const StartVisitScreen = screen('StartVisitScreen');
const VisitMapScreen = screen('VisitMapScreen');
const PartScreen = screen('PartScreen');
const SetupScreen = screen('SetupScreen');
const NotesScreen = screen('NotesScreen');
const MissingScreen = screen('MissingScreen');
const SignScreen = screen('SignScreen');
const MeasureScreen = screen('MeasureScreen');
const TrialScreen = screen('TrialScreen');
const KitScreen = screen('KitScreen');
const ControlScreen = screen('ControlScreen');
const NeedsScreen = screen('NeedsScreen');
const ControlsScreen = screen('ControlsScreen');
const StrainScreen = screen('StrainScreen');
const HomeScreen = screen('HomeScreen');
const PlaceScreen = screen('PlaceScreen');
const SettingsScreen = screen('SettingsScreen');
const MountScreen = screen('MountScreen');

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
