/** The chair with the person in it from above, in millimetres about the middle of the drive axle, facing to the right. */
export const chairLength = 1030;
export const chairWidth = 655;

/** Drawn at x and y, turned by so many degrees with the clock, so many drawing units long. */
export function ChairAbove(props: { readonly x: number; readonly y: number; readonly turn?: number; readonly long: number }) {
  const { x, y, turn = 0, long } = props;
  return (
    <g class="chair-above" transform={`translate(${x} ${y}) rotate(${turn}) scale(${long / chairLength})`}>
      <rect class="p-skin" x="-470" y="-310" width={chairLength} height={chairWidth} rx="26" />
      <path
        class="p-dark"
        d="M-140 -305h280a36 38 0 0 1 0 76h-280a36 38 0 0 1 0 -76zM-140 229h280a36 38 0 0 1 0 76h-280a36 38 0 0 1 0 -76zM-440 -250h150v48h-150zM-440 202h150v48h-150zM250 -250h140v48h-140zM250 202h140v48h-140z"
      />
      <rect class="p-pale" x="-300" y="-225" width="530" height="450" rx="50" />
      <rect class="p-pale" x="400" y="-170" width="150" height="340" rx="24" />
      <path class="p-trousers" d="M-60 -175H300Q370 -170 370 -105T300 -40H-60ZM-60 40H300Q370 45 370 105T300 175H-60Z" />
      <path class="p-dark" d="M372 -135H500Q528 -130 528 -105T500 -75H372ZM372 75H500Q528 80 528 105T500 135H372Z" />
      <rect class="p-pale" x="-330" y="-215" width="90" height="430" rx="40" />
      <rect class="p-pale" x="-150" y="-292" width="360" height="66" rx="30" />
      <rect class="p-pale" x="-150" y="226" width="360" height="66" rx="30" />
      <path
        class="p-cloth"
        d="M-200 -120Q-220 -240 -120 -280L40 -290Q70 -262 40 -240L-60 -220L-60 220L40 240Q70 262 40 290L-120 280Q-220 240 -200 120Z"
      />
      <path
        class="p-skin"
        d="M30 -292H170Q212 -288 212 -264T170 -238H30Q58 -264 30 -292ZM30 238H190Q236 240 236 266T190 294H30Q58 266 30 238Z"
      />
      <rect class="p-pale" x="214" y="226" width="120" height="112" rx="20" />
      <circle class="p-dark" cx="250" cy="278" r="24" />
      <circle class="p-dark" cx="-135" cy="0" r="92" />
    </g>
  );
}

/** Where the chair was or will be. */
export function ChairGhost(props: { readonly x: number; readonly y: number; readonly turn?: number; readonly long: number }) {
  const { x, y, turn = 0, long } = props;
  return (
    <g class="chair-above" transform={`translate(${x} ${y}) rotate(${turn}) scale(${long / chairLength})`}>
      <rect class="p-ghost" x="-470" y="-310" width={chairLength} height={chairWidth} rx="26" />
    </g>
  );
}
