import type { Label } from './parts';

/** Slanted lines: the tired. */
export function Hatch(props: { readonly id: string }) {
  return (
    <pattern id={props.id} width={8} height={8} patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
      <path class="rose-hatch" d="M0 0V8" stroke-width={2.6} />
    </pattern>
  );
}

/** Words in a box. pill: a figure within its arm. ink: on a ring of the control. rule: on the scale. plain: beside an arm. */
export function Tag(props: { readonly label: Label; readonly look: 'pill' | 'ink' | 'rule' | 'plain' }) {
  const { x, y, wide, high, text, size } = props.label;
  return (
    <g class={`rose-tag rose-tag-${props.look}`}>
      <rect x={x} y={y} width={wide} height={high} rx={props.look === 'rule' ? 0 : 8} stroke-width={2} />
      <text x={x + wide / 2} y={y + high / 2 + size * 0.35} font-size={size}>
        {text}
      </text>
    </g>
  );
}
