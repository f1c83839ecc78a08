import type { ComponentChildren } from 'preact';
import { Hand, HeadFront, HeadSide } from './pictures/close-ups';
import { PersonBack, PersonFront, PersonSide } from './pictures/person';
import { percentOf, viewOf, type SiteView, type Spot, type ViewId } from './pictures/site-spots';
import { siteWords } from './sites';

/** How far a site has come: a shape on the drawing, and a word. */
export type SiteState = 'open' | 'measured' | 'chosen' | 'aside';

export const siteStateWords: Readonly<Record<SiteState, string>> = {
  open: 'can be tried',
  measured: 'measured',
  chosen: 'chosen',
  aside: 'set aside',
};

/** The drawing of each view, as it is for the right side. */
const drawings: Readonly<Record<ViewId, () => ComponentChildren>> = {
  front: PersonFront,
  back: PersonBack,
  'side-right': PersonSide,
  'side-left': PersonSide,
  head: HeadFront,
  'head-right': HeadSide,
  'head-left': HeadSide,
  'hand-right': Hand,
  'hand-left': Hand,
};

const closerWords: Readonly<Partial<Record<ViewId, string>>> = {
  head: 'face and head, closer',
  'head-right': 'face and head, closer',
  'head-left': 'face and head, closer',
  'hand-right': 'right hand and fingers, closer',
  'hand-left': 'left hand and fingers, closer',
};

/** Ring can be tried, dot measured, dot in ring chosen, struck ring set aside; a plus leads closer. */
export function SiteMark(props: { readonly state: SiteState | 'closer' }) {
  const { state } = props;
  return (
    <svg class={`site-mark site-mark-${state}`} viewBox="-22 -22 44 44" aria-hidden="true" focusable="false">
      {state === 'chosen' ? <circle class="site-ring" r="17" /> : null}
      <circle class="site-dot" r={state === 'closer' ? 13 : 10} />
      {state === 'aside' ? <path class="site-strike" d="M-15 0H15" /> : null}
      {state === 'closer' ? <path class="site-strike" d="M-6 0H6M0 -6V6" /> : null}
    </svg>
  );
}

/** What stands at the edge, so that nobody takes the client's right for the picture's. */
function edges(id: ViewId): readonly [start: string, end: string] | null {
  if (id === 'front' || id === 'head') return ['client’s right', 'client’s left'];
  return id === 'back' ? ['client’s left', 'client’s right'] : null;
}

function SpotButton(props: { readonly view: SiteView; readonly spot: Spot; readonly state: SiteState; readonly onPress: () => void }) {
  const { view, spot, state } = props;
  const [x, y] = percentOf(view, spot);
  const style = { left: `${x}%`, top: `${y}%` };
  if (spot.closer) {
    return (
      <button type="button" class="site-spot" style={style} aria-label={closerWords[spot.closer]} onClick={props.onPress}>
        <SiteMark state="closer" />
      </button>
    );
  }
  return (
    <button
      type="button"
      class="site-spot"
      style={style}
      aria-pressed={state === 'chosen'}
      aria-label={`${siteWords(spot.site ?? '')}, ${siteStateWords[state]}`}
      onClick={props.onPress}
    >
      <SiteMark state={state} />
    </button>
  );
}

/** A view of the person with a button at each site. Left and right are the client's own. */
export function Figure(props: {
  readonly view: ViewId;
  readonly stateOf: (site: string) => SiteState;
  readonly onChoose: (site: string) => void;
  readonly onCloser: (view: ViewId) => void;
}) {
  const view = viewOf(props.view);
  const { x, y, wide, high } = view.box;
  const Drawing = drawings[props.view];
  const sides = edges(props.view);
  return (
    <div class="figure" role="group" aria-label={view.words} style={{ aspectRatio: `${wide} / ${high}` }}>
      <svg class="picture" viewBox={`${x} ${y} ${wide} ${high}`} aria-hidden="true" focusable="false">
        <g transform={view.mirrored ? `translate(${2 * x + wide} 0) scale(-1 1)` : undefined}>
          <Drawing />
          {props.view === 'head' ? <path class="p-thin p-dashed" d="M168 194L138 180" /> : null}
        </g>
      </svg>
      {sides ? (
        <>
          <span class="figure-side figure-side-start" aria-hidden="true">
            {sides[0]}
          </span>
          <span class="figure-side figure-side-end" aria-hidden="true">
            {sides[1]}
          </span>
        </>
      ) : null}
      {view.spots.map((spot) => (
        <SpotButton
          key={spot.site ?? spot.closer}
          view={view}
          spot={spot}
          state={props.stateOf(spot.site ?? '')}
          onPress={() => (spot.closer ? props.onCloser(spot.closer) : props.onChoose(spot.site ?? ''))}
        />
      ))}
    </div>
  );
}
