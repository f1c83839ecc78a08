import type { ComponentChildren } from 'preact';
import { useEffect, useMemo, useState } from 'preact/hooks';
import { Banner, Button, ButtonLink, Dialog, LevelDoor, Page, SyncBadge, clockWords, display, switchTheme, timeWords } from '..';
import { clients, openClient, openVisit, visitOpening, type VisitView } from '../../lib';
import { pauseClocks, elapsedOf } from '../../lib/trial/clock';
import { watchTrials } from '../../lib/trial/trial-store';
import { trials } from '../../lib/trials';
import { AmendBar } from './amend';
import { links } from './links';

interface FrameProps {
  readonly id: string;
  readonly title: string | ((view: VisitView) => string);
  /** Absent on the visit map itself. */
  readonly back?: 'map' | 'client' | undefined;
  readonly children: (view: VisitView) => ComponentChildren;
  readonly actions?: ((view: VisitView) => ComponentChildren) | undefined;
  readonly wide?: boolean | undefined;
  /** False when the address names an item that takes the focus instead. */
  readonly focusTitle?: boolean | undefined;
}

/** The live view of a visit; the same signal for as long as the id stays. */
function useVisit(id: string): VisitView | null {
  const view = useMemo(() => openVisit(id), [id]);
  return view.value;
}

function ClientName(props: { readonly client: string }) {
  const view = useMemo(() => openClient(props.client), [props.client]);
  const client = view.value?.client;
  return (
    <a class="over-name" href={links.client(props.client)}>
      {client ? client.name : 'Client'}
    </a>
  );
}

function MissingLink(props: { readonly view: VisitView }) {
  const { view } = props;
  const count = view.result ? (view.result.missing?.length ?? 0) : undefined;
  return (
    <a class="over-link" href={links.missing(view.visit.id)}>
      {count === undefined ? 'What is missing' : `Missing: ${count}`}
    </a>
  );
}

/** A run that is timed while another screen is open. */
function RunningTrial(props: { readonly visit: string }) {
  const [, redraw] = useState(0);
  const { clock } = trials.of(props.visit).value.draft;
  const running = clock.since !== null;
  useEffect(() => watchTrials(trials, props.visit), [props.visit]);
  useEffect(() => {
    if (!running) return undefined;
    const timer = setInterval(() => redraw((count) => count + 1), 1000);
    return () => clearInterval(timer);
  }, [running]);
  if (!running) return null;
  return (
    <a class="over-link over-clock" href={links.trial(props.visit)}>
      Trial clock {clockWords(elapsedOf(clock, Date.now()))}
    </a>
  );
}

/** Stops every clock, asks nothing, and says where one was. */
function PauseVisit(props: { readonly title: string }) {
  const [at, setAt] = useState<string | null>(null);
  return (
    <>
      <Button
        kind="quiet"
        onPress={() => {
          pauseClocks();
          setAt(new Date().toISOString());
        }}
      >
        Take a break
      </Button>
      <Dialog
        title="A break"
        open={at !== null}
        mustChoose
        onClose={() => setAt(null)}
        actions={
          <Button kind="main" size="big" onPress={() => setAt(null)}>
            Go on
          </Button>
        }
      >
        <p>All clocks stand still. Everything entered is on this tablet.</p>
        <p>
          You were at: <strong>{props.title}</strong>
          {at ? `, ${timeWords(at)}` : ''}.
        </p>
      </Dialog>
    </>
  );
}

function VisitStrip(props: { readonly view: VisitView; readonly title: string }) {
  const { view } = props;
  return (
    <div class="visit-strip">
      <ClientName client={view.visit.client} />
      <SyncBadge state={view.sync} />
      {view.result ? (
        <a class="over-level" href={links.level(view.visit.id)}>
          <LevelDoor level={view.result.level} size="small" interim={view.result.interim} provisional={view.provisional} />
        </a>
      ) : null}
      <MissingLink view={view} />
      <RunningTrial visit={view.visit.id} />
      <span class="visit-strip-tools">
        <Button kind="quiet" pressed={display.value.theme === 'outdoor'} onPress={switchTheme}>
          Outdoors
        </Button>
        <PauseVisit title={props.title} />
      </span>
    </div>
  );
}

/** Until a visit can be shown; says so when it cannot. */
function Opening(props: { readonly id: string }) {
  const { state, why } = useMemo(() => visitOpening(props.id), [props.id]).value;
  if (state === 'absent') return <p role="status">This visit is not on this device.</p>;
  if (state === 'opening') return <p role="status">Opening the visit…</p>;
  return (
    <Banner tone="caution" title="This visit cannot be shown now">
      <p>
        Everything that was entered is kept on this tablet. Note on paper what cannot wait. It is tried again by itself; with a network,
        reloading helps. ({why})
      </p>
      <Button onPress={() => location.reload()}>Reload</Button>
    </Banner>
  );
}

/** What every screen of a visit shows above its own content. */
export function VisitFrame(props: FrameProps) {
  const view = useVisit(props.id);
  if (view === null) {
    const here = clients.value.some((card) => card.visits.some((visit) => visit.id === props.id));
    return (
      <Page title={typeof props.title === 'string' ? props.title : 'Visit'} {...(here ? {} : { back: { href: '/', label: 'Today' } })}>
        <Opening id={props.id} />
      </Page>
    );
  }
  const title = typeof props.title === 'string' ? props.title : props.title(view);
  const back =
    props.back === 'client'
      ? { href: links.client(view.visit.client), label: 'The client' }
      : { href: links.map(props.id), label: 'Visit map' };
  if (view.blind) {
    return (
      <Page title={title} back={{ href: links.client(view.visit.client), label: 'The client' }}>
        <Banner tone="note" title="Blind">
          You rate the same trial. This visit can be read as soon as both of you have signed.
        </Banner>
      </Page>
    );
  }
  return (
    <Page
      title={title}
      back={back}
      wide={props.wide}
      focusTitle={props.focusTitle}
      over={<VisitStrip view={view} title={title} />}
      actions={props.actions?.(view)}
    >
      <AmendBar visit={view.visit} />
      {view.engineError ? (
        <Banner tone="caution">
          This tablet could not work out a result: {view.engineError} Entries are kept; go on with your own judgement.
        </Banner>
      ) : null}
      {props.children(view)}
    </Page>
  );
}

/** A row of links to the next likely screens; with print, a button for the paper. */
export function NextLinks(props: {
  readonly ways: readonly { readonly href: string; readonly label: string }[];
  readonly print?: boolean;
}) {
  return (
    <nav class="actions" aria-label="Go on">
      {props.print ? <Button onPress={() => window.print()}>Print</Button> : null}
      {props.ways.map((way) => (
        <ButtonLink key={way.href} href={way.href}>
          {way.label}
        </ButtonLink>
      ))}
    </nav>
  );
}
