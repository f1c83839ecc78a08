import { useMemo } from 'preact/hooks';
import { dateWords } from '../../ui';
import { openClient, type ClientView, type VisitView } from '../../lib';
import type { Look } from './answer';
import { dateOfDay, momentsOf, presentOf, trendText } from './moments';
import { useTrend, useViews } from './use-trend';

/** The date of the next look with what set it. */
export function LookLine(props: { readonly look: Look }) {
  const { look } = props;
  return (
    <p>
      {look.byForecast ? <strong>Sooner by the forecast: </strong> : null}By {dateWords(dateOfDay(look.day))}. {look.sentence}
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
  const { trend } = useTrend(trendText(momentsOf(props.views), props.course, presentOf(props.views), ''));
  return trend?.look ? <LookLine look={trend.look} /> : null;
}
