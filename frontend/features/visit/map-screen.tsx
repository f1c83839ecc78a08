import { Banner, ButtonLink, EffectMark } from '../../ui';
import { VisitFrame } from '../../ui/visit/frame';
import { links } from '../../ui/visit/links';
import { sentenceOf } from '../../ui/words';
import type { Section, VisitView } from '../../lib';
import { sectionProgress } from './progress';
import { chooseRows, measureRows, type VisitRow } from './visit-rows';

function PartTile(props: { readonly section: Section; readonly view: VisitView }) {
  const { section, view } = props;
  const progress = sectionProgress(section, view.visit, view.result);
  return (
    <li>
      <a class="tile" href={links.part(view.visit.id, section.code)}>
        <span class="tile-title">{section.title}</span>
        <span class="tile-count">
          {progress.done} of {progress.of}
        </span>
        <span class="tile-bar" aria-hidden="true">
          <span style={{ width: `${(progress.done / progress.of) * 100}%` }} />
        </span>
        <span class="tile-marks">
          {progress.raised.map((one) => (
            <EffectMark key={one.effect} effect={one.effect} count={one.count} />
          ))}
          {progress.choices > 0 ? (
            <span class="effect effect-choice">Needs your choice{progress.choices > 1 ? `: ${progress.choices}` : ''}</span>
          ) : null}
        </span>
      </a>
    </li>
  );
}

function OpenStops(props: { readonly view: VisitView }) {
  const stops = props.view.result?.effects.filter((effect) => effect.effect.startsWith('stop')) ?? [];
  if (stops.length === 0) return null;
  return (
    <section aria-labelledby="open-stops">
      <h2 id="open-stops">Open stops</h2>
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
      actions={() => (
        <>
          <ButtonLink kind="main" size="big" href={links.level(props.id)}>
            Level
          </ButtonLink>
          <ButtonLink size="big" href={links.sign(props.id)}>
            Sign
          </ButtonLink>
        </>
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
            <ul class="tiles">
              {view.checklist.sections.map((section) => (
                <PartTile key={section.code} section={section} view={view} />
              ))}
            </ul>
          </section>
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
