import { useMemo } from 'preact/hooks';
import { dateWords } from '../../ui';
import { sentenceOf } from '../../ui/words';
import { openClient, type ClientView, type VisitView } from '../../lib';
import type { TrendRecheck } from '../../lib/model.gen';
import { dateOfDay, momentsOf, presentOf, trendQuestion } from './moments';
import { useTrend, useViews } from './use-trend';

/** The date of the next look with what set it. */
export function LookLine(props: { readonly look: TrendRecheck }) {
  const { look } = props;
  return (
    <p>
      {look.by === 'forecast' ? <strong>Sooner by the forecast: </strong> : null}By {dateWords(dateOfDay(look.day))}.{' '}
      {sentenceOf(look.message)}
    </p>
  );
}

/** The same for a client, from all visits; nothing while there is one visit, which says it itself. */
export function LookOverVisits(props: { readonly client: string }) {
  const view = useMemo(() => openClient(props.client), [props.client]).value;
  return view ? <Opened view={view} /> : null;
}

function Opened(props: { readonly view: ClientView }) {
  const { views } = useViews(props.view);
  return views.filter((one) => one.result).length > 1 ? <Asked views={views} course={props.view.client.course} /> : null;
}

function Asked(props: { readonly views: readonly VisitView[]; readonly course: string }) {
  const { trend } = useTrend(trendQuestion(momentsOf(props.views), props.course, presentOf(props.views)));
  return trend?.recheck ? <LookLine look={trend.recheck} /> : null;
}
