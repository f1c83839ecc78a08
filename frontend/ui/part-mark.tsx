/** How far a part is, as a shape: a stop is told before all else. */
export type PartState = 'none' | 'some' | 'all' | 'stop' | 'choice';

/** The slice of a ring that is filled, from the top, clockwise. */
function slice(share: number): string {
  const angle = Math.min(share, 0.999) * 2 * Math.PI;
  const [x, y] = [13 + 8 * Math.sin(angle), 13 - 8 * Math.cos(angle)];
  return `M13 13V5A8 8 0 ${share > 0.5 ? 1 : 0} 1 ${x.toFixed(2)} ${y.toFixed(2)}Z`;
}

/** A ring, a ring that fills, a disc with a tick; two ways that part; a bar across with its brackets. */
export function PartMark(props: { readonly state: PartState; readonly share: number }) {
  const { state } = props;
  return (
    <svg class={`part-mark part-mark-${state}`} viewBox="0 0 26 26" aria-hidden="true" focusable="false">
      {state === 'stop' ? (
        <>
          <path class="part-mark-bar" d="M1 9.5H25V16.5H1Z" />
          <path class="part-mark-line" d="M6 4.5v17M20 4.5v17" />
        </>
      ) : state === 'choice' ? (
        <path class="part-mark-line" d="M13 23v-9M13 14L5 4M13 14l8-10" />
      ) : (
        <>
          <circle class={state === 'all' ? 'part-mark-disc' : 'part-mark-ring'} cx="13" cy="13" r="10.5" />
          {state === 'some' ? <path class="part-mark-slice" d={slice(props.share)} /> : null}
          {state === 'all' ? <path class="part-mark-tick" d="M7.5 13.5l4 4 7-8" /> : null}
        </>
      )}
    </svg>
  );
}
