import type { Rose } from '../../lib/model.gen';
import { BANK, bankParts, type ColumnParts } from './bank';
import { Hatch, Tag } from './marks';
import type { RoseLook } from './parts';

/** A switch from the side: its cap over its box. */
function SwitchMark(props: { readonly x: number; readonly half: number }) {
  const { x, half } = props;
  const y = BANK.floor;
  return (
    <>
      <path class="rose-cap" d={`M${x - half * 0.8} ${y + 12}q0 -12 12 -12h${half * 1.6 - 24}q12 0 12 12z`} stroke-width={2.4} />
      <rect class="rose-box" x={x - half - 6} y={y + 12} width={2 * half + 12} height={16} rx={4} />
    </>
  );
}

function Column(props: { readonly column: ColumnParts; readonly hatch: string }) {
  const { column } = props;
  const { x, half } = column;
  const across = (y: number) => `M${x - half - 14} ${y}h${2 * half + 28}`;
  const lines = [
    { text: column.words, size: 16, class: 'rose-word' },
    { text: column.wrong, size: 15, class: 'rose-wrong' },
  ];
  return (
    <g class={`rose-arm${column.pale ? ' rose-pale' : ''}${column.chosen ? ' rose-chosen' : ''}`}>
      {column.bars.map((bar) => {
        const path = `M${x - half} ${BANK.floor}V${bar.top}H${x + half}V${BANK.floor}Z`;
        return (
          <g key={bar.of}>
            {bar.of === 'tired' ? <path class="rose-under" d={path} /> : null}
            <path
              class={`rose-${bar.of}`}
              d={path}
              stroke-width={column.chosen && bar.of !== 'assumed' ? 4 : 2.4}
              stroke-dasharray={bar.of === 'assumed' ? '2 5' : bar.few ? '9 6' : undefined}
              fill={bar.of === 'tired' ? `url(#${props.hatch})` : undefined}
            />
          </g>
        );
      })}
      {column.asked === null ? null : <path class="rose-line" d={across(column.asked)} stroke-width={4.5} />}
      {column.plenty === null ? null : <path class="rose-line" d={across(column.plenty)} stroke-width={2.4} stroke-dasharray="1 7" />}
      <SwitchMark x={x} half={half} />
      {column.figure ? <Tag label={column.figure} look="plain" /> : null}
      {column.pill ? <Tag label={column.pill} look="pill" /> : null}
      {column.apart ? <Tag label={column.apart} look="plain" /> : null}
      {column.askedLabel ? <Tag label={column.askedLabel} look="ink" /> : null}
      <g class={column.chosen ? 'rose-name rose-name-chosen' : 'rose-name'}>
        {column.chosen ? <rect x={x - 72} y={BANK.floor + 34} width={144} height={column.wrong === '' ? 36 : 60} rx={12} /> : null}
        {lines.map((line, i) => (
          <text key={line.class} class={line.class} x={x} y={BANK.floor + 58 + i * 22} font-size={line.size}>
            {line.text}
          </text>
        ))}
      </g>
    </g>
  );
}

/** What was measured at every switch, as columns of force over what each asks. */
export function Bank(props: RoseLook & { readonly rose: Rose; readonly label: string; readonly id?: string | undefined }) {
  const parts = bankParts(props.rose, props);
  const hatch = `${props.id ?? 'bank'}-hatch`;
  return (
    <svg class="rose" viewBox={`0 0 ${BANK.wide} ${BANK.high}`} role="img" aria-label={props.label}>
      <defs>
        <Hatch id={hatch} />
      </defs>
      {parts.grid.map((one) => (
        <g key={one.value}>
          <path class="rose-grid" d={`M0 ${one.y}H${BANK.wide}`} stroke-width={1.5} />
          <text class="rose-rule" x={2} y={one.y - 4} font-size={14}>
            {one.value}
          </text>
        </g>
      ))}
      {parts.columns.map((column) => (
        <Column key={column.id} column={column} hatch={hatch} />
      ))}
    </svg>
  );
}
