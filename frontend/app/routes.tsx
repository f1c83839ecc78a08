import type { ComponentType } from 'preact';
import { useEffect, useLayoutEffect } from 'preact/hooks';
import { Today } from '../features/clients/today';
import { SignIn } from '../features/lock/sign-in';
import { leftAt, partsOf, usePlace } from '../ui/address';
import { Page } from '../ui/page';
import { lazy, loadLazy } from './lazy';
import { screen } from './lazy-screen';
import { patterns, type Pattern } from './window-title';

/** What a screen is given: the named parts of its path. */
type Screen = ComponentType<Readonly<Record<string, string>>>;

/** What is not on this device; its part of the program comes when something is not. */
function Downloads() {
  useEffect(() => {
    loadLazy().catch(() => undefined);
  }, []);
  const Lines = lazy.value?.DownloadBanners;
  return Lines ? <Lines /> : null;
}

const screens = {
  '/': () => <Today download={<Downloads />} />,
  '/sign-in': () => <SignIn ByProvider={lazy.value?.ByProvider} TabletPassword={lazy.value?.TabletPassword} />,
  '/clients/new': screen('NewClient'),
  '/clients/:id': screen('ClientScreen'),
  '/clients/:id/visit': screen('StartVisitScreen'),
  '/clients/:id/over-time': screen('OverTimeScreen'),
  '/visits/:id': screen('VisitMapScreen'),
  '/visits/:id/part/:code': screen('PartScreen'),
  '/visits/:id/measure/:what': screen('MeasureScreen'),
  '/visits/:id/trial': screen('TrialScreen'),
  '/visits/:id/setup': screen('SetupScreen'),
  '/visits/:id/notes': screen('NotesScreen'),
  '/visits/:id/missing': screen('MissingScreen'),
  '/visits/:id/level': screen('LevelScreen'),
  '/visits/:id/needs': screen('NeedsScreen'),
  '/visits/:id/controls': screen('ControlsScreen'),
  '/visits/:id/strain': screen('StrainOverTimeScreen'),
  '/visits/:id/home': screen('HomeScreen'),
  '/visits/:id/home/:place': screen('PlaceScreen'),
  '/visits/:id/settings': screen('SettingsScreen'),
  '/visits/:id/mount': screen('MountScreen'),
  '/visits/:id/sign': screen('SignScreen'),
  '/caseload': screen('CaseloadScreen'),
  '/agreement': screen('AgreementScreen'),
  '/kit': screen('KitScreen'),
  '/kit/:id': screen('ControlScreen'),
  '/sync': screen('SyncScreen'),
  '/people': screen('AccountScreen'),
  '/about': screen('AboutScreen'),
  '/parts': screen('PartsScreen'),
} satisfies Readonly<Record<Pattern, ComponentType<never>>>;

function NotFound() {
  return (
    <Page title="There is no such screen" back={{ href: '/', label: 'Today' }}>
      <p>The address may be from an older version of Doorsill, or a letter is missing.</p>
    </Page>
  );
}

export function Routes() {
  const { path, onward } = usePlace();
  useLayoutEffect(() => {
    scrollTo(0, onward ? 0 : leftAt());
  }, [path]);
  for (const pattern of patterns) {
    const parts = partsOf(pattern, path);
    const Shown = screens[pattern] as ComponentType<never> as Screen;
    if (parts !== null) return <Shown {...parts} />;
  }
  return <NotFound />;
}
