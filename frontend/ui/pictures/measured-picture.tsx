import type { ComponentChildren } from 'preact';
import { useId } from 'preact/hooks';
import type { FigureField, Typed } from '../figures';
import { Input } from '../inputs';

type At = readonly [x: number, y: number];

/** Where on a drawing a figure is measured, and where it is typed. */
export interface Measure {
  readonly key: string;
  /** From the one end to the other; a leader to where there is nothing to span. */
  readonly from: At;
  readonly to: At;
  /** The middle of its field. */
  readonly at: At;
  /** It has no ends to span: a plate, a weight. */
  readonly leader?: boolean | undefined;
}

export interface Drawn {
  readonly wide: number;
  readonly high: number;
  /** In the order in which one measures. */
  readonly measures: readonly Measure[];
  readonly lines: () => ComponentChildren;
}

/** The name of a measure on a narrow drawing: A, B, C. */
function letterOf(i: number): string {
  return String.fromCharCode(65 + i);
}

/** A line with a head at each end, the length of its measure. */
export function Span(props: { readonly from: At; readonly to: At }) {
  const [x, y] = props.from;
  const long = Math.hypot(props.to[0] - x, props.to[1] - y);
  const turn = (Math.atan2(props.to[1] - y, props.to[0] - x) * 180) / Math.PI;
  return (
    <g class="p-span" transform={`translate(${x} ${y}) rotate(${turn})`}>
      <path class="p-measure" d={`M1 0H${long - 1}M6 -4L1 0L6 4M${long - 6} -4L${long - 1} 0L${long - 6} 4`} />
    </g>
  );
}

function Lines(props: { readonly drawn: Drawn; readonly letters: boolean }) {
  const { drawn } = props;
  return (
    <>
      {drawn.lines()}
      {drawn.measures.map(({ key, from, to, leader }) =>
        leader ? (
          <path key={key} class="p-measure p-dashed" d={`M${from[0]} ${from[1]}L${to[0]} ${to[1]}`} />
        ) : (
          <Span key={key} from={from} to={to} />
        ),
      )}
      {props.letters
        ? drawn.measures.map(({ key, from, to }, i) => (
            <g key={key} class="measured-mark" transform={`translate(${(from[0] + to[0]) / 2} ${(from[1] + to[1]) / 2})`}>
              <circle class="p-letter-ground" r="10" />
              <text class="p-letter" y="4.5" font-size="13">
                {letterOf(i)}
              </text>
            </g>
          ))
        : null}
    </>
  );
}

/** A drawing with its measures marked and nothing to type: a mark in a list. */
export function SmallPicture(props: { readonly drawn: Drawn | undefined }) {
  if (props.drawn === undefined) return null;
  return (
    <svg class="picture small-picture" viewBox={`0 0 ${props.drawn.wide} ${props.drawn.high}`} aria-hidden="true" focusable="false">
      <Lines drawn={props.drawn} letters={false} />
    </svg>
  );
}

/** A drawing with the letters of its measures, for paper. */
export function PlainPicture(props: { readonly drawn: Drawn; readonly words: string }) {
  return (
    <svg class="picture measured-drawing" viewBox={`0 0 ${props.drawn.wide} ${props.drawn.high}`} role="img" aria-label={props.words}>
      <Lines drawn={props.drawn} letters />
    </svg>
  );
}

function MeasureInput(props: {
  readonly id: string;
  readonly field: FigureField;
  readonly letter: string;
  readonly at: string;
  readonly value: string;
  readonly wrong: boolean;
  readonly described: boolean;
  readonly onInput: (text: string) => void;
}) {
  const { id, field } = props;
  return (
    <div class={props.wrong ? 'measured-field measured-wrong' : 'measured-field'} style={props.at}>
      <span class="measured-letter" aria-hidden="true">
        {props.letter}
      </span>
      <label class="measured-label" for={id}>
        {field.label} ({field.unit})
      </label>
      <Input
        id={id}
        class="input measured-input"
        inputMode={field.decimals || field.least < 0 ? 'text' : 'numeric'}
        aria-describedby={props.described ? `${id}-said` : undefined}
        aria-invalid={props.wrong}
        value={props.value}
        onInput={(event) => props.onInput(event.currentTarget.value)}
      />
    </div>
  );
}

/**
 * Figures typed at the arrows of a drawing, where they are measured. On a narrow
 * screen, or with large text, the fields stand below with the letters of their
 * arrows. What is to be said of a field stands below in both.
 */
export function MeasuredPicture(props: {
  readonly drawn: Drawn;
  /** What is drawn, for those who do not see it. */
  readonly words: string;
  readonly fields: readonly FigureField[];
  readonly typed: Typed;
  readonly errors: Typed;
  readonly onChange: (typed: Typed) => void;
}) {
  const { drawn, fields, typed, errors } = props;
  const id = useId();
  const ofKey = (key: string) => fields.find((field) => field.key === key);
  const shown = drawn.measures.flatMap((measure, i) => {
    const field = ofKey(measure.key);
    return field
      ? [{ measure, field, letter: field.label.startsWith(`${letterOf(i)}. `) ? '' : letterOf(i), id: `${id}-${measure.key}` }]
      : [];
  });
  const said = shown.filter(({ field }) => field.hint || errors[field.key]);
  return (
    <div class="measured">
      <div class="measured-sheet">
        <svg class="picture measured-drawing" viewBox={`0 0 ${drawn.wide} ${drawn.high}`} role="img" aria-label={props.words}>
          <Lines drawn={drawn} letters />
        </svg>
        <div class="measured-fields">
          {shown.map(({ measure, field, letter, id: own }) => (
            <MeasureInput
              key={field.key}
              id={own}
              field={field}
              letter={letter}
              at={`left:${(measure.at[0] / drawn.wide) * 100}%;top:${(measure.at[1] / drawn.high) * 100}%`}
              value={typed[field.key] ?? ''}
              wrong={Boolean(errors[field.key])}
              described={Boolean(field.hint || errors[field.key])}
              onInput={(text) => props.onChange({ ...typed, [field.key]: text })}
            />
          ))}
        </div>
      </div>
      {said.length > 0 ? (
        <ul class="measured-said">
          {said.map(({ field, letter, id: own }) => (
            <li key={field.key} id={`${own}-said`}>
              <strong>
                <span class="measured-letter" aria-hidden="true">
                  {letter}{' '}
                </span>
                {field.label}:
              </strong>{' '}
              {field.hint}
              {errors[field.key] ? (
                <span class="field-error" role="alert">
                  {' '}
                  {errors[field.key]}
                </span>
              ) : null}
            </li>
          ))}
        </ul>
      ) : null}
    </div>
  );
}
