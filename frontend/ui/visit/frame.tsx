import type { ComponentChildren } from 'preact';
import { useMemo } from 'preact/hooks';
import { Banner, Button, ButtonLink, Page } from '..';
import { clients, openClient, openVisit, visitOpening, type VisitView } from '../../lib';
import { isOpen } from '../../lib/visit-writer';
import { AmendBar } from './amend';
import { links } from './links';
import { UnfinishedList, unfinishedOf } from './unfinished';

interface FrameProps {
  readonly id: string;
  readonly title: string | ((view: VisitView) => string);
  /** Absent on the visit map itself. */
  readonly back?: 'map' | 'client' | undefined;
  readonly children: (view: VisitView) => ComponentChildren;
  /** What stands beside the title. */
  readonly beside?: ((view: VisitView) => ComponentChildren) | undefined;
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

/** How the client of a visit is called. */
function useClientName(client: string): string {
  const view = useMemo(() => openClient(client), [client]);
  return view.value?.client.name ?? 'Client';
}

function Framed(props: FrameProps & { readonly view: VisitView; readonly titleWords: string }) {
  const { view } = props;
  const { client } = view.visit;
  const toClient = links.client(client);
  const name = useClientName(client);
  const back =
    props.back === 'client' || view.blind ? { href: toClient, label: 'The client' } : { href: links.map(props.id), label: 'Visit map' };
  if (view.blind) {
    return (
      <Page title={props.titleWords} back={back} over={name} overHref={toClient}>
        <Banner tone="note" title="Blind">
          You rate the same trial. This visit can be read as soon as both of you have signed.
        </Banner>
      </Page>
    );
  }
  return (
    <Page
      title={props.titleWords}
      back={back}
      over={name}
      overHref={toClient}
      wide={props.wide}
      focusTitle={props.focusTitle}
      beside={props.beside?.(view)}
      actions={props.actions?.(view)}
    >
      <AmendBar visit={view.visit} />
      {view.visit.signed !== undefined && !isOpen(view.visit) ? <BegunBefore visit={props.id} /> : null}
      {view.engineError ? (
        <Banner tone="caution">
          This tablet could not work out a result: {view.engineError} Entries are kept; go on with your own judgement.
        </Banner>
      ) : null}
      {props.children(view)}
    </Page>
  );
}

/** What was being typed, counted or timed here when the visit was signed somewhere else: it stays in sight. */
function BegunBefore(props: { readonly visit: string }) {
  const begun = unfinishedOf(props.visit);
  if (begun.length === 0) return null;
  return (
    <Banner tone="caution" title="Typed before it was signed, and not saved">
      <p>Choose “Amend” to save it, or throw it away.</p>
      <UnfinishedList list={begun} within={links.map(props.visit)} />
    </Banner>
  );
}

/** The frame of every screen of a visit: whose it is, the way back, and what was amended. */
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
  return <Framed {...props} view={view} titleWords={title} />;
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
