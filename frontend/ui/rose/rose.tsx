import type { Rose as Figures } from '../../lib/model.gen';
import type { Box } from './layout';
import { Hatch, Tag } from './marks';
import { roseParts, type ArmParts, type Frame, type RoseLook, type RoseParts } from './parts';

function Whisker(props: { readonly arm: ArmParts }) {
  const { whisker } = props.arm;
  if (whisker === null) return null;
  const { from, to, aside, far } = whisker;
  const path = `M${aside - 9} ${-to}h18M${aside} ${-to}V${-from}M${aside - 9} ${-from}h18`;
  return (
    <>
      <path class="rose-halo" d={path} stroke-width={far ? 10 : 7} />
      <path class="rose-line" d={path} stroke-width={far ? 5 : 2.6} />
    </>
  );
}

/** One arm, drawn upwards and turned. */
function Arm(props: { readonly arm: ArmParts; readonly frame: Frame; readonly hatch: string }) {
  const { arm, frame } = props;
  return (
    <g
      class={`rose-arm${arm.pale ? ' rose-pale' : ''}${arm.chosen ? ' rose-chosen' : ''}`}
      transform={`translate(${frame.wide / 2} ${frame.high / 2}) rotate(${arm.turn})`}
    >
      {arm.shapes.length === 0 ? (
        <path class="rose-none" d={`M0 ${-frame.hub}V${-frame.least - 30}`} stroke-width={2} stroke-dasharray="3 7" />
      ) : null}
      {arm.shapes.map((shape) => (
        <g key={shape.of}>
          {shape.of === 'tired' ? <path class="rose-under" d={shape.path} /> : null}
          <path
            class={`rose-${shape.of}`}
            d={shape.path}
            stroke-width={arm.chosen && shape.of !== 'assumed' ? 4 : 2.4}
            stroke-dasharray={shape.of === 'assumed' ? '2 5' : shape.few ? '9 6' : undefined}
            fill={shape.of === 'tired' ? `url(#${props.hatch})` : undefined}
          />
        </g>
      ))}
      {arm.asked ? <path class="rose-line" d={`M${-arm.asked.half} ${-arm.asked.at}h${2 * arm.asked.half}`} stroke-width={4.5} /> : null}
      <Whisker arm={arm} />
      {arm.bar ? (
        <>
          <path class="rose-bar" d={`M${-arm.bar.half} ${-arm.bar.at - 5}h${2 * arm.bar.half}v10h${-2 * arm.bar.half}z`} />
          <path class="rose-line" d={`M${-arm.bar.half} ${-arm.bar.at - 12}v24M${arm.bar.half} ${-arm.bar.at - 12}v24`} stroke-width={5} />
        </>
      ) : null}
    </g>
  );
}

const middle = (box: Box) => box.x + box.wide / 2;

/** Name, rested figure and what is wrong, at the end of the arm's way. */
function Name(props: { readonly arm: ArmParts }) {
  const { name, words, chosen, pale } = props.arm;
  const lines = [
    { text: words, size: 17, class: 'rose-word' },
    { text: name.figure, size: name.figureSize, class: 'rose-figure' },
    { text: name.wrong, size: 15, class: 'rose-wrong' },
  ].filter((line) => line.text !== '');
  const high = lines.reduce((sum, line) => sum + line.size * 1.12, 0);
  let y = name.y + (name.high - high) / 2;
  return (
    <g class={`rose-name${chosen ? ' rose-name-chosen' : ''}${pale ? ' rose-pale' : ''}`}>
      {chosen ? <rect x={name.x} y={name.y} width={name.wide} height={name.high} rx={12} /> : null}
      {lines.map((line) => {
        y += line.size * 1.12;
        return (
          <text key={line.class} class={line.class} x={middle(name)} y={y - line.size * 0.26} font-size={line.size}>
            {line.text}
          </text>
        );
      })}
    </g>
  );
}

function Rings(props: { readonly parts: RoseParts }) {
  const { grid, asked, plenty, frame } = props.parts;
  const [x, y] = [frame.wide / 2, frame.high / 2];
  return (
    <>
      {asked ? <circle class="rose-line rose-asked" cx={x} cy={y} r={asked.at} stroke-width={4.5} /> : null}
      {plenty ? <circle class="rose-line rose-plenty" cx={x} cy={y} r={plenty.at} stroke-width={2.4} stroke-dasharray="1 7" /> : null}
      {grid.map((one) => (one.label ? <Tag key={one.value} label={one.label} look="rule" /> : null))}
      {asked?.label ? <Tag label={asked.label} look="ink" /> : null}
      {plenty?.label ? <Tag label={plenty.label} look="ink" /> : null}
    </>
  );
}

/**
 * What was measured in every direction, and what the chosen control asks: the length
 * of an arm is force on a logarithmic scale. It keeps nothing and asks nothing, so that
 * screens and papers draw the same; a table (RoseTable) says it in words.
 */
export function Rose(
  props: RoseLook & {
    readonly rose: Figures;
    /** What it says to who does not see it. */
    readonly label: string;
    /** Of the hatching, where more than one drawing stands on a page. */
    readonly id?: string | undefined;
  },
) {
  const parts = roseParts(props.rose, props);
  const { frame } = parts;
  const [x, y] = [frame.wide / 2, frame.high / 2];
  const hatch = `${props.id ?? 'rose'}-hatch`;
  return (
    <svg class="rose" viewBox={`0 0 ${frame.wide} ${frame.high}`} role="img" aria-label={props.label}>
      <defs>
        <Hatch id={hatch} />
      </defs>
      {parts.grid.map((one) => (
        <circle key={one.value} class="rose-grid" cx={x} cy={y} r={one.at} stroke-width={1.5} />
      ))}
      {parts.arms.map((arm) => (
        <Arm key={arm.id} arm={arm} frame={frame} hatch={hatch} />
      ))}
      <Rings parts={parts} />
      {parts.hub ? (
        <g class={parts.hub.chosen ? 'rose-hub rose-name-chosen' : 'rose-hub'}>
          <circle cx={x} cy={y} r={frame.hub} stroke-width={parts.hub.chosen ? 4 : 1.6} />
          <text class="rose-word" x={x} y={parts.hub.figure === '' ? y + 5 : y - 3} font-size={16}>
            {props.words(parts.hub.id)}
          </text>
          <text class="rose-figure" x={x} y={y + 18} font-size={19}>
            {parts.hub.figure}
          </text>
        </g>
      ) : (
        <circle class="rose-grid" cx={x} cy={y} r={4} stroke-width={2} />
      )}
      {parts.arms.map((arm) => (
        <g key={arm.id}>
          {arm.pill ? <Tag label={arm.pill} look="pill" /> : null}
          {arm.apart ? <Tag label={arm.apart} look="plain" /> : null}
          <Name arm={arm} />
        </g>
      ))}
    </svg>
  );
}
