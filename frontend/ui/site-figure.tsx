import { regions, type RegionId } from './sites';

/** Where each region's button stands on the drawing, in percent; seen from the front. */
const frontSpots: Readonly<Record<RegionId, readonly [x: number, y: number]>> = {
  face: [50, 12],
  head: [50, 12],
  'shoulder-right': [27, 27],
  'shoulder-left': [73, 27],
  'arm-right': [17, 44],
  'arm-left': [83, 44],
  'hand-right': [21, 61],
  'hand-left': [79, 61],
  'knee-right': [38, 73],
  'knee-left': [62, 73],
  'foot-right': [37, 92],
  'foot-left': [63, 92],
};

/** A seated figure in a few strokes. From the back the chair hides the legs. */
function Drawing(props: { readonly view: 'front' | 'back' }) {
  return (
    <svg class="figure-drawing" viewBox="0 0 100 120" aria-hidden="true" focusable="false" preserveAspectRatio="none">
      <g fill="none" stroke="currentColor" stroke-linecap="round" stroke-linejoin="round">
        <circle cx="50" cy="15" r="10" />
        <path d="M45 25v5M55 25v5M30 33q20-6 40 0l4 6-3 33H29l-3-33z" />
        <path d="M27 36l-9 20 4 18M73 36l9 20-4 18" />
        {props.view === 'front' ? (
          <path d="M33 72h34M38 74l-1 34h-7M62 74l1 34h7M50 74v4" />
        ) : (
          <path d="M24 30h52v62H24zM20 92h60M28 92v22M72 92v22" />
        )}
        <path d="M12 74h14M74 74h14M12 74v30M88 74v30" />
      </g>
    </svg>
  );
}

/** The figure with a button at each region. Left and right are the client's own. */
export function Figure(props: {
  readonly view: 'front' | 'back';
  readonly chosen: RegionId | null;
  readonly onChoose: (region: RegionId) => void;
}) {
  const back = props.view === 'back';
  return (
    <div class="figure" role="group" aria-label={`Seated figure from the ${props.view}`}>
      <Drawing view={props.view} />
      <span class="figure-side figure-side-start" aria-hidden="true">
        {back ? 'client’s left' : 'client’s right'}
      </span>
      <span class="figure-side figure-side-end" aria-hidden="true">
        {back ? 'client’s right' : 'client’s left'}
      </span>
      {regions
        .filter((region) => region.view === 'both' || region.view === props.view)
        .map((region) => {
          const [x, y] = frontSpots[region.id];
          return (
            <button
              key={region.id}
              type="button"
              class={region.id === props.chosen ? 'figure-spot figure-spot-on' : 'figure-spot'}
              style={{ left: `${back ? 100 - x : x}%`, top: `${y}%` }}
              aria-pressed={region.id === props.chosen}
              aria-label={region.words}
              onClick={() => props.onChoose(region.id)}
            >
              {region.words.replace(/^(left|right) /, '')}
            </button>
          );
        })}
    </div>
  );
}
