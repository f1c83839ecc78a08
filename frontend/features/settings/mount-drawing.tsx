/** Where the knob's centre is, in millimetres; NaN where nothing is typed. */
export interface KnobPlace {
  readonly forward: number;
  readonly up: number;
  readonly side: number;
}

function Knob(props: { readonly x: number; readonly y: number }) {
  return Number.isFinite(props.x) && Number.isFinite(props.y) ? <circle class="mount-knob" cx={props.x} cy={props.y} r="38" /> : null;
}

/** The three directions: A and B from the side, C from the front of the driver. To scale; the dot is what is typed. */
export function MountDrawing(props: { readonly at: KnobPlace }) {
  const { forward, up, side } = props.at;
  return (
    <figure class="mount-drawing">
      <svg
        viewBox="-120 -1300 1500 1500"
        role="img"
        aria-label="Seen from the side: A is forward from the back post, B is up from the seat."
      >
        <path class="mount-seat" d="M0 -1250V60H1300" />
        <path class="mount-way" d="M20 -650H900M860 -680L900 -650L860 -620" />
        <text x="420" y="-690">
          A
        </text>
        <path class="mount-way" d="M1000 -20V-640M970 -600L1000 -640L1030 -600" />
        <text x="1040" y="-300">
          B
        </text>
        <text class="mount-small" x="30" y="-1190">
          back post
        </text>
        <text class="mount-small" x="820" y="160">
          seat
        </text>
        <Knob x={forward} y={-up} />
      </svg>
      <svg
        viewBox="-1300 -1300 2600 1500"
        role="img"
        aria-label="Seen by the driver: C is to the right of the midline, with a minus to the left."
      >
        <path class="mount-seat" d="M-420 60H420" />
        <path class="mount-mid" d="M0 -1250V60" />
        <path class="mount-way" d="M20 -650H800M760 -680L800 -650L760 -620" />
        <text x="380" y="-690">
          C +
        </text>
        <path class="mount-way" d="M-20 -650H-800M-760 -680L-800 -650L-760 -620" />
        <text x="-520" y="-690">
          C −
        </text>
        <text class="mount-small" x="30" y="-1190">
          midline
        </text>
        <Knob x={side} y={-up} />
      </svg>
      <figcaption>Left: from the side. Right: as the driver sees it. A dot shows the control’s centre once it is typed.</figcaption>
    </figure>
  );
}
