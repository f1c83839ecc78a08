import { useEffect } from 'preact/hooks';
import { goTo, usePlace } from '../ui/address';
import { session, withdrawn } from '../lib';
import { Boundary } from './boundary';
import { cautionsRead } from './cautions-read';
import { locksIn } from './idle';
import { lazy } from './lazy';
import { screen } from './lazy-screen';
import { Routes } from './routes';
import { attentionCount, TopBar, visitAt } from './top-bar';
import { Ways } from './ways';
import { nameWindow } from './window-title';

const FirstStart = screen('FirstStart');
const IdleWarning = screen('IdleWarning');
const LeftUnsaved = screen('LeftUnsaved');
const WithdrawnScreen = screen('WithdrawnScreen');

/** Screens that anybody may read. */
const open: ReadonlySet<string> = new Set(['/sign-in', '/about', '/parts']);

/** Sends whoever is not signed in to the sign-in screen, and back afterwards. */
function useGate(): boolean {
  const { path, url } = usePlace();
  const shut = session.value === null && !open.has(path);
  useEffect(() => {
    if (shut) goTo(url === '/' ? '/sign-in' : `/sign-in?to=${encodeURIComponent(url)}`, true);
  }, [shut, url]);
  return shut;
}

/** The head, and the ways of the app or of the visit, stay where they are while screens change. */
function Shell() {
  const { path } = usePlace();
  if (session.value === null || withdrawn.value !== null || !cautionsRead.value) return <Screen />;
  const visit = visitAt(path);
  const Rail = lazy.value?.VisitRail;
  const Foot = lazy.value?.VisitFoot;
  return (
    <div class="shell">
      <TopBar />
      <div class="shell-columns">
        {visit === undefined ? <Ways /> : Rail ? <Rail key={visit} id={visit} /> : null}
        <div class="work">
          <Screen />
        </div>
      </div>
      {visit !== undefined && Foot ? <Foot key={visit} id={visit} /> : null}
    </div>
  );
}

function Screen() {
  const shut = useGate();
  const { path } = usePlace();
  useEffect(() => nameWindow(path), [path]);
  const States = lazy.value?.StateLines;
  if (withdrawn.value !== null) return <WithdrawnScreen />;
  if (shut) return null;
  if (session.value !== null && !cautionsRead.value) return <FirstStart />;
  return (
    <>
      {States ? <States attentionCount={attentionCount} /> : null}
      {session.value === null ? null : <LeftUnsaved />}
      <Routes />
    </>
  );
}

/** Its part of the program comes when the lock is near, or long before. */
function Warning() {
  return locksIn.value === null || session.value === null ? null : <IdleWarning />;
}

export function App() {
  return (
    <Boundary>
      <Shell />
      <Warning />
    </Boundary>
  );
}
