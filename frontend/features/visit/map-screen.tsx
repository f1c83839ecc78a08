import { Banner, ButtonLink, EffectMark } from '../../ui';
import { needsAnswered } from '../../ui/needs';
import { VisitFrame } from '../../ui/visit/frame';
import { links, measureTitles, type MeasureWhat } from '../../ui/visit/links';
import { sentenceOf } from '../../ui/words';
import type { Section, VisitView } from '../../lib';
import type { Setup } from '../../lib/model.gen';
import { sectionProgress } from './progress';

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
            <span class="effect effect-choice">Needs your choice{progress.choices > 1 ? ` × ${progress.choices}` : ''}</span>
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

const measures: readonly MeasureWhat[] = ['force', 'travel', 'release', 'hold', 'unintended', 'switch'];
const switched: readonly MeasureWhat[] = ['command', 'stop-command', 'unasked', 'steps'];

/** What is measured with the control that is chosen. */
function measuresOf(setup: Setup | undefined): readonly MeasureWhat[] {
  switch (setup?.class) {
    case 'breath':
      return [...measures, ...switched, 'breath'];
    case 'switched':
    case 'scanning':
      return [...measures, ...switched];
    default:
      return [
        ...measures,
        ...(setup?.drive_mode === 'latched' ? (['stop-command'] as const) : []),
        ...(setup?.class === 'non-contact' ? (['unasked'] as const) : []),
      ];
  }
}

function Measures(props: { readonly view: VisitView }) {
  const { visit } = props.view;
  const taken = (what: MeasureWhat) => {
    const kind = what === 'switch' ? 'switch-force' : what;
    return visit.readings.filter((reading) => reading.what === kind && !reading.slip).length;
  };
  const runs = visit.runs.filter((run) => !run.slip).length;
  return (
    <section aria-labelledby="measuring">
      <h2 id="measuring">Measure and drive</h2>
      <ul class="tiles tiles-small">
        <li>
          <a class="tile" href={links.setup(visit.id)}>
            <span class="tile-title">Control and place</span>
            <span class="tile-count">{visit.setup ? 'chosen' : 'not chosen'}</span>
          </a>
        </li>
        {measuresOf(visit.setup).map((what) => (
          <li key={what}>
            <a class="tile" href={links.measure(visit.id, what)}>
              <span class="tile-title">{measureTitles[what]}</span>
              <span class="tile-count">
                {taken(what)} {taken(what) === 1 ? 'reading' : 'readings'}
              </span>
            </a>
          </li>
        ))}
        <li>
          <a class="tile" href={links.trial(visit.id)}>
            <span class="tile-title">Driving trial</span>
            <span class="tile-count">
              {runs} {runs === 1 ? 'run' : 'runs'}
            </span>
          </a>
        </li>
      </ul>
    </section>
  );
}

function passagesWords(view: VisitView): string {
  const { places = [], chair } = view.visit;
  if (places.length > 0) return `${places.length} ${places.length === 1 ? 'place' : 'places'} measured`;
  return chair ? 'chair measured' : 'not measured';
}

function rankedWords(view: VisitView): string {
  const ranked = view.result?.choices.filter((one) => one.rank !== undefined).length ?? 0;
  return ranked === 0 ? 'nothing in order yet' : `${ranked} in the order of choice`;
}

/** From what was measured to what is chosen: needs, controls, strain, home, settings, mount. */
function Choosing(props: { readonly view: VisitView }) {
  const { visit, result } = props.view;
  const needs = needsAnswered(visit.needs);
  const settings = visit.settings?.length ?? 0;
  const due = result?.due?.length ?? 0;
  const tiles: readonly (readonly [string, string, string])[] = [
    [links.needs(visit.id), 'Needs', `${needs.done} of ${needs.of}`],
    [links.controls(visit.id), 'Controls', rankedWords(props.view)],
    [links.strain(visit.id), 'Strain', result?.recheck?.weeks ? `look again in ${result.recheck.weeks} weeks` : 'loads and holding times'],
    [links.home(visit.id), 'Home', passagesWords(props.view)],
    [links.settings(visit.id), 'Settings', `${settings} ${settings === 1 ? 'change' : 'changes'}${due > 0 ? `, ${due} due again` : ''}`],
    [links.mount(visit.id), 'Mount', visit.mount ? 'noted' : 'not noted'],
  ];
  return (
    <section aria-labelledby="choosing">
      <h2 id="choosing">Choose and set up</h2>
      <ul class="tiles tiles-small">
        {tiles.map(([href, title, count]) => (
          <li key={href}>
            <a class="tile" href={href}>
              <span class="tile-title">{title}</span>
              <span class="tile-count">{count}</span>
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
          <section aria-labelledby="parts">
            <h2 id="parts">Checklist</h2>
            <ul class="tiles">
              {view.checklist.sections.map((section) => (
                <PartTile key={section.code} section={section} view={view} />
              ))}
            </ul>
          </section>
          <Measures view={view} />
          <Choosing view={view} />
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
