import { Banner, ButtonLink, EffectMark } from '../../ui';
import { VisitFrame } from '../../ui/visit/frame';
import { links, missingLink } from '../../ui/visit/links';
import { sentenceOf } from '../../ui/words';
import type { VisitView } from '../../lib';
import { PartRows } from './part-rows';
import { chooseRows, measureRows, type VisitRow } from './visit-rows';

function OpenStops(props: { readonly view: VisitView }) {
  const stops = props.view.result?.effects.filter((effect) => effect.effect.startsWith('stop')) ?? [];
  if (stops.length === 0) return null;
  return (
    <section aria-labelledby="open-stops">
      <h2 id="open-stops">What forbids driving</h2>
      <ul class="plain-list">
        {stops.map((stop) => (
          <li key={stop.effect + stop.item} class="sentence">
            <EffectMark effect={stop.effect} />
            <span>{sentenceOf(stop.message)}</span>
          </li>
        ))}
      </ul>
    </section>
  );
}

/** As many as one looks at before choosing where to begin. */
const few = 6;

/** The first of what is missing, each a tap away. */
function NeededFirst(props: { readonly view: VisitView }) {
  const { view } = props;
  const missing = view.result?.missing ?? [];
  if (missing.length === 0 || view.visit.signed !== undefined) return null;
  return (
    <section aria-labelledby="needed-first">
      <h2 id="needed-first">Missing first</h2>
      <ul class="tiles tiles-small">
        {missing.slice(0, few).map((one) => {
          const [what, ...rest] = sentenceOf(one.message).split(': ');
          return (
            <li key={`${one.item ?? ''} ${what}`}>
              <a class="tile" href={missingLink(view.visit.id, view.checklist, one)}>
                <span class="tile-title">{what}</span>
                <span class="tile-count">{rest.join(': ')}</span>
              </a>
            </li>
          );
        })}
      </ul>
    </section>
  );
}

function Rows(props: { readonly id: string; readonly title: string; readonly rows: readonly VisitRow[] }) {
  return (
    <section aria-labelledby={props.id}>
      <h2 id={props.id}>{props.title}</h2>
      <ul class="tiles tiles-small">
        {props.rows.map((row) => (
          <li key={row.href}>
            <a class="tile" href={row.href}>
              <span class="tile-title">{row.title}</span>
              <span class="tile-count">{row.state}</span>
            </a>
          </li>
        ))}
      </ul>
    </section>
  );
}

/** The visit map: ten parts in free order, and everything else one tap away. */
export function VisitMapScreen(props: { readonly id: string }) {
  return (
    <VisitFrame
      id={props.id}
      title="Visit map"
      back="client"
      wide
      beside={() => (
        <span class="beside-rail">
          <ButtonLink kind="main" href={links.level(props.id)}>
            Level
          </ButtonLink>
          <ButtonLink href={links.sign(props.id)}>Sign</ButtonLink>
        </span>
      )}
    >
      {(view) => (
        <>
          {view.visit.unknown > 0 ? (
            <Banner tone="caution">{view.visit.unknown} entries come from a newer version of the app. Update the app to see them.</Banner>
          ) : null}
          <OpenStops view={view} />
          <section class="map-parts" aria-labelledby="parts">
            <h2 id="parts">Checklist</h2>
            <PartRows view={view} path={links.map(props.id)} />
          </section>
          <NeededFirst view={view} />
          <Rows id="measuring" title="Measure and drive" rows={measureRows(view)} />
          <Rows id="choosing" title="Choose and set up" rows={chooseRows(view)} />
          <section aria-labelledby="about-visit">
            <h2 id="about-visit">The visit</h2>
            <ul class="tiles tiles-small">
              <li>
                <a class="tile" href={links.notes(props.id)}>
                  <span class="tile-title">Visit notes</span>
                  <span class="tile-count">present, consent, goals</span>
                </a>
              </li>
              <li>
                <a class="tile" href={links.sign(props.id)}>
                  <span class="tile-title">Sign the visit</span>
                  <span class="tile-count">{view.visit.signed === undefined ? 'not signed' : 'signed'}</span>
                </a>
              </li>
              <li>
                <a class="tile" href={links.missing(props.id)}>
                  <span class="tile-title">What is missing</span>
                  <span class="tile-count">{view.result ? `${view.result.missing?.length ?? 0} things` : 'not worked out yet'}</span>
                </a>
              </li>
            </ul>
          </section>
        </>
      )}
    </VisitFrame>
  );
}
