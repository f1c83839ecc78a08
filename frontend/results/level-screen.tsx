import { useMemo } from 'preact/hooks';
import { useRoute } from 'preact-iso';
import { dateOf } from '../clients/find';
import { Banner, Button, ButtonLink, Page, SyncBadge } from '../parts';
import { clients, openVisit, type VisitView } from '../store';
import { AmendBar } from '../visit/amend';
import { links } from '../visit/links';
import { effectiveLevel, type Standing } from './level-head';
import { OverridePart } from './override-part';
import { Part } from './part';
import { readAloud } from './read-aloud';
import { ResultBody } from './result-body';
import type { ResultView } from './result';
import { createTitles } from './titles';

/** The level of one visit with all its reasons. */
export function LevelScreen() {
  const { id = '' } = useRoute().params;
  const view = useMemo(() => openVisit(id), [id]).value;
  const name = clients.value.find((card) => card.id === view?.visit.client)?.name;
  const back = { href: links.map(id), label: 'Visit map' };
  if (!view) return <Page title="Level" back={back}><p role="status">Opening the visit…</p></Page>;
  return (
    <Page
      title="Level"
      back={back}
      over={<>{name ?? ''} <SyncBadge state={view.sync} /></>}
      actions={<LevelActions id={id} signed={view.visit.signed !== undefined} />}
    >
      {view.engineError === '' ? null : <Banner tone="caution" live>{view.engineError}</Banner>}
      <AmendBar visit={view.visit} />
      {view.result ? <Level view={view} result={view.result} /> : <p role="status">Working out the level…</p>}
    </Page>
  );
}

function LevelActions(props: { readonly id: string; readonly signed: boolean }) {
  return (
    <>
      {props.signed ? null : <ButtonLink kind="main" href={links.sign(props.id)}>Sign the visit</ButtonLink>}
      <ButtonLink href={links.missing(props.id)}>What is missing</ButtonLink>
      <Button onPress={() => window.print()}>Print</Button>
    </>
  );
}

function Level(props: { readonly view: VisitView; readonly result: ResultView }) {
  const { view, result } = props;
  const { visit } = view;
  const titles = useMemo(() => createTitles(view.checklist), [view.checklist]);
  const hrefOf = (item: string): string | undefined => {
    const place = titles.item(item);
    return place ? links.item(visit.id, place.section, item) : undefined;
  };
  return (
    <div class="result">
      <ResultBody result={result} checklist={view.checklist} standing={standingOf(view)} hrefOf={hrefOf} />
      <OverridePart visit={visit} result={result} today={dateOf(new Date())} />
      <Part title="To read aloud" class="read-aloud">
        {readAloud(result, { level: effectiveLevel(result), recheck: visit.plan?.recheck ?? '' }).map((sentence) => <p key={sentence}>{sentence}</p>)}
      </Part>
    </div>
  );
}

function standingOf(view: VisitView): Standing {
  if (view.provisional) return 'provisional';
  return view.differs ? 'differs' : 'confirmed';
}
