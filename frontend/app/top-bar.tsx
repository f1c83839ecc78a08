import { signal, type Signal } from '@preact/signals';
import { useState } from 'preact/hooks';
import { usePlace } from '../ui/address';
import { Button } from '../ui/button';
import { SyncBadge } from '../ui/sync-badge';
import { lock, session, signOut, syncState, type VisitSync } from '../lib';
import { lazy } from './lazy';

/** How many states somebody must act on. */
export const attentionCount: Signal<number> = signal(0);

interface Way {
  readonly href: string;
  readonly label: string;
}

function ways(): readonly Way[] {
  const who = session.value;
  if (who === null) return [];
  const inTeam = who.teams.length > 0;
  const leads = who.teams.some((team) => team.role === 'lead');
  return [
    ...(inTeam ? [{ href: '/', label: 'Today' }] : []),
    ...(inTeam ? [{ href: '/kit', label: 'Kit' }] : []),
    ...(leads ? [{ href: '/caseload', label: 'Caseload' }] : []),
    { href: '/people', label: who.admin ? 'People' : 'Account' },
    { href: '/about', label: 'About' },
  ];
}

/** The state of everything on this tablet in one word. */
function tabletSync(): VisitSync {
  const { waiting, running, needsChoice } = syncState.value;
  if (needsChoice > 0) return 'choice';
  if (waiting === 0) return 'sent';
  return running ? 'waiting' : 'here';
}

function Leave() {
  const [asking, setAsking] = useState(false);
  const leave = () => (syncState.value.waiting > 0 ? setAsking(true) : void signOut());
  const Ask = lazy.value?.SignOutDialog;
  return (
    <>
      <Button kind="quiet" onPress={lock}>
        Lock
      </Button>
      <Button kind="quiet" onPress={leave}>
        Sign out
      </Button>
      {Ask ? <Ask open={asking} onClose={() => setAsking(false)} /> : null}
    </>
  );
}

/** Where one is, where one can go, and whether everything has been sent. */
export function TopBar() {
  const { path } = usePlace();
  return (
    <header class="top-bar">
      <nav class="top-ways" aria-label="Doorsill">
        {ways().map((way) => (
          <a key={way.href} class="top-way" href={way.href} aria-current={path === way.href ? 'page' : undefined}>
            {way.label}
          </a>
        ))}
      </nav>
      <a class="top-sync" href="/sync">
        <SyncBadge state={tabletSync()} />
        {attentionCount.value > 0 ? <strong class="top-look">{attentionCount.value} to look at</strong> : null}
      </a>
      <div class="top-leave">
        <Leave />
      </div>
    </header>
  );
}
