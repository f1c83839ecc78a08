import { useMemo } from 'preact/hooks';
import { Banner, Page, useDraft } from '../../ui';
import { createTitles } from '../../ui/result/titles';
import { NextLinks } from '../../ui/visit/frame';
import { links } from '../../ui/visit/links';
import { countWords } from '../../ui/words';
import { openClient, type ClientView, type VisitView } from '../../lib';
import { ChangePart } from './change-part';
import { DomainPart } from './domain-part';
import { LevelPart } from './level-part';
import { momentsOf, presentOf, trendQuestion } from './moments';
import { StrainPart } from './strain-part';
import { useTrend, useViews } from './use-trend';
import { WeeksPart } from './weeks-part';

/** One client over all visits: levels, scores, weeks left and strain. */
export function OverTimeScreen(props: { readonly id: string }) {
  const view = useMemo(() => openClient(props.id), [props.id]).value;
  return (
    <Page title="Over time" wide over={view?.client.name} back={{ href: links.client(props.id), label: 'The client' }}>
      {view ? (
        <>
          <Visits view={view} />
          <NextLinks print ways={[]} />
        </>
      ) : (
        <p>This client is not on this device.</p>
      )}
    </Page>
  );
}

function Visits(props: { readonly view: ClientView }) {
  const { client, visits } = props.view;
  const { cards, views } = useViews(props.view);
  const waiting = cards.length - views.filter((view) => view.result !== null).length;
  if (cards.length === 0) return <p>{visits.length === 0 ? 'No visit yet.' : 'Nothing can be shown until both raters have signed.'}</p>;
  return (
    <>
      {visits.length > cards.length ? (
        <p class="quiet-line">Left out: {countWords(visits.length - cards.length, 'visit')} rated a second time or still blind.</p>
      ) : null}
      {waiting > 0 ? <p role="status">{countWords(waiting, 'visit')} still being opened.</p> : null}
      {views.some((view) => view.result) ? <Course views={views} course={client.course} /> : null}
    </>
  );
}

function Course(props: { readonly views: readonly VisitView[]; readonly course: string }) {
  const { views, course } = props;
  // Tried out here and saved nowhere; it stays as it was typed.
  const { value: judged, set: setJudged } = useDraft({ about: views[0]?.visit.client ?? '', name: 'judged loss' }, '');
  const moments = momentsOf(views);
  const present = presentOf(views);
  const loss = Number(judged.replace(',', '.'));
  const { trend, error } = useTrend(trendQuestion(moments, course, present, loss > 0 ? loss : undefined));
  const checklist = views.at(-1)?.checklist;
  const titles = useMemo(() => (checklist ? createTitles(checklist) : null), [checklist]);
  if (!titles) return null;
  return (
    <div class="result">
      {moments.length < 2 ? <Banner tone="note">One visit so far: change can be seen from the second on.</Banner> : null}
      {error === '' ? null : (
        <Banner tone="caution" title="Not worked out" live>
          This tablet could not compare the visits: {error} What was found at each visit is shown all the same.
        </Banner>
      )}
      <LevelPart moments={moments} trend={trend} />
      {trend && moments.length > 1 ? (
        <ChangePart trend={trend} titles={titles} days={[...new Set(moments.map((moment) => moment.day))]} />
      ) : null}
      <DomainPart moments={moments} trend={trend} titles={titles} />
      <WeeksPart moments={moments} present={present} trend={trend} judged={judged} onJudge={setJudged} />
      <StrainPart moments={moments} />
    </div>
  );
}
