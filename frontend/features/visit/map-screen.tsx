import { Banner, ButtonLink, EffectMark } from '../../ui';
import { Icon } from '../../ui/icon';
import { PartMark } from '../../ui/part-mark';
import { VisitFrame } from '../../ui/visit/frame';
import { links, missingLink } from '../../ui/visit/links';
import { sentenceOf } from '../../ui/words';
import type { VisitView } from '../../lib';
import { firstNotes, noteCount, NoteText } from './notes-screen';
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

/** What is asked first in a visit, until it is said; then it stands there in a line. */
function FirstOfAll(props: { readonly view: VisitView }) {
  const { view } = props;
  const { visit } = view;
  if (visit.signed !== undefined) return null;
  const said = firstNotes.every(({ id }) => (visit.notes[id] ?? '').trim() !== '');
  return (
    <section class="first-of-all" aria-labelledby="first-of-all">
      <h2 id="first-of-all">Before you begin</h2>
      {said ? (
        <>
          <p>
            {firstNotes.map(({ id, label }) => (
              <span key={id} class="said-line">
                <Icon name="tick" />
                <strong>{label}:</strong> {visit.notes[id]}
              </span>
            ))}
          </p>
          <a class="link-row" href={links.notes(visit.id)}>
            Change
          </a>
        </>
      ) : (
        <div class="notes-fields">
          {firstNotes.map((field) => (
            <NoteText key={field.id} view={view} field={field} rows={1} />
          ))}
        </div>
      )}
    </section>
  );
}

/** As many as one looks at before choosing where to begin. */
const few = 6;

/** The first of what is missing, each a tap away. */
function NeededFirst(props: { readonly view: VisitView }) {
  const { view } = props;
  // What is asked above needs no way to it.
  const missing = (view.result?.missing ?? []).filter((one) => !firstNotes.some(({ id }) => id === one.reading?.what));
  if (missing.length === 0 || view.visit.signed !== undefined) return null;
  return (
    <section aria-labelledby="needed-first">
      <h2 id="needed-first">Missing first</h2>
      <ul class="tiles tiles-small">
        {missing.slice(0, few).map((one) => {
          const [what, ...rest] = sentenceOf(one.message).split(': ');
          const said = rest.join(': ');
          return (
            <li key={`${one.item ?? ''} ${what}`}>
              <Tile href={missingLink(view.visit.id, view.checklist, one)} title={what ?? ''} state={said === 'not tested.' ? '' : said} />
            </li>
          );
        })}
      </ul>
    </section>
  );
}

/** A way on, with how far it is as a shape and in words. */
function Tile(props: VisitRow) {
  const { share } = props;
  const state = share === undefined ? undefined : share >= 1 ? 'all' : share > 0 ? 'some' : 'none';
  return (
    <a class={state ? 'tile tile-marked' : 'tile'} href={props.href}>
      {state ? <PartMark state={state} share={share ?? 0} /> : null}
      <span class="tile-title">{props.title}</span>
      {props.state === '' ? null : <span class="tile-count">{props.state}</span>}
    </a>
  );
}

function aboutRows({ visit, result }: VisitView): readonly VisitRow[] {
  const missing = result?.missing?.length ?? 0;
  return [
    {
      href: links.notes(visit.id),
      title: 'Visit notes',
      state: 'present, consent, goals',
      share: Object.keys(visit.notes).length / noteCount,
    },
    {
      href: links.sign(visit.id),
      title: 'Sign the visit',
      state: visit.signed === undefined ? 'not signed' : 'signed',
      share: visit.signed === undefined ? 0 : 1,
    },
    {
      href: links.missing(visit.id),
      title: 'What is missing',
      state: result ? `${missing} things` : 'not worked out yet',
      share: result && missing === 0 ? 1 : 0,
    },
  ];
}

function Rows(props: { readonly id: string; readonly title: string; readonly rows: readonly VisitRow[] }) {
  return (
    <section aria-labelledby={props.id}>
      <h2 id={props.id}>{props.title}</h2>
      <ul class="tiles tiles-small">
        {props.rows.map((row) => (
          <li key={row.href}>
            <Tile {...row} />
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
          <FirstOfAll view={view} />
          <section class="map-parts" aria-labelledby="parts">
            <h2 id="parts">Checklist</h2>
            <PartRows view={view} path={links.map(props.id)} />
          </section>
          <NeededFirst view={view} />
          <Rows id="measuring" title="Measure and drive" rows={measureRows(view)} />
          <Rows id="choosing" title="Choose and set up" rows={chooseRows(view)} />
          <Rows id="about-visit" title="The visit" rows={aboutRows(view)} />
        </>
      )}
    </VisitFrame>
  );
}
