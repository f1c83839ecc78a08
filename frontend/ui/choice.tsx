import type { ComponentChildren } from 'preact';
import { useId } from 'preact/hooks';
import { Input } from './inputs';

export interface Choice {
  readonly value: string;
  readonly label: string;
  /** The anchor words: always in sight, never on hover. */
  readonly text?: string | undefined;
  /** A drawing beside the words; it says nothing that they do not. */
  readonly picture?: ComponentChildren;
  /** Offered and not yet confirmed, such as the answer of the last visit: drawn dashed. */
  readonly offered?: boolean | undefined;
}

interface GroupProps {
  readonly legend: string;
  /** Hide the legend from sight where the heading above says the same. */
  readonly legendHidden?: boolean | undefined;
  /** The chosen value, or empty for none yet. */
  readonly value: string;
  readonly options: readonly Choice[];
  readonly onChange: (value: string) => void;
  /** What is wrong and what was expected. */
  readonly error?: string | undefined;
  readonly describedBy?: string | undefined;
  readonly disabled?: boolean | undefined;
}

/** From so many choices a list takes two columns where there is room. */
const LONG_LIST = 5;

/** A one-digit or short label stands on one line with its anchor words. */
function choiceClass(option: Choice, on: boolean): string {
  const { length } = option.label;
  const short = option.text ? (length <= 1 ? ' choice-short' : length <= 3 ? ' choice-short choice-word' : '') : '';
  return `choice${on ? ' choice-on' : ''}${option.offered ? ' choice-offered' : ''}${short}`;
}

function Radios(props: GroupProps & { readonly look: string }) {
  const name = useId();
  return (
    <fieldset class={props.look} aria-describedby={props.describedBy} disabled={props.disabled}>
      <legend class={props.legendHidden ? 'unseen' : 'field-label'}>{props.legend}</legend>
      <div class={props.options.length < LONG_LIST ? 'choice-list' : 'choice-list choice-list-long'}>
        {props.options.map((option) => (
          <label key={option.value} class={choiceClass(option, option.value === props.value)}>
            <Input
              type="radio"
              name={name}
              value={option.value}
              checked={option.value === props.value}
              onChange={() => props.onChange(option.value)}
            />
            <span class="choice-label">{option.label}</span>
            {option.offered ? <span class="unseen"> as last visit, not confirmed</span> : null}
            {option.text ? <span class="choice-text">{option.text}</span> : null}
            {option.picture}
          </label>
        ))}
      </div>
      {props.error ? (
        <p class="field-error" role="alert">
          {props.error}
        </p>
      ) : null}
    </fieldset>
  );
}

/** Wide rows, one a choice, with their anchor words. */
export function ChoiceRows(props: GroupProps) {
  return <Radios {...props} look="choice-rows" />;
}

/** A few short choices side by side; they wrap when the text is large. */
export function Segments(props: GroupProps & { readonly big?: boolean | undefined }) {
  return <Radios {...props} look={props.big ? 'segments segments-big' : 'segments'} />;
}

/** All choices of an item close together: one row of short ones, two columns of longer ones. */
export function LevelButtons(props: GroupProps & { readonly columns: 'row' | 'two' }) {
  return <Radios {...props} look={`choice-rows levels levels-${props.columns}`} />;
}
