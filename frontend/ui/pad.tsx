import { useId } from 'preact/hooks';
import { padPress, type PadKey } from './pad-text';
import { Input, PlainForm } from './inputs';

export interface PadProps {
  readonly label: string;
  /** What has been typed so far, as text; empty is blank, which is not 0. */
  readonly value: string;
  readonly unit: string;
  /** Digits after the point; 0 hides the point. */
  readonly decimals: number;
  readonly onChange: (value: string) => void;
  /** Called by Enter and by the big key. */
  readonly onDone: () => void;
  readonly doneLabel: string;
  readonly error?: string | undefined;
}

const keys: readonly PadKey[] = ['7', '8', '9', '4', '5', '6', '1', '2', '3', 'point', '0', 'back'];

const keyFace: Readonly<Partial<Record<PadKey, string>>> = { point: '.', back: '⌫' };
const keyName: Readonly<Partial<Record<PadKey, string>>> = { point: 'point', back: 'delete the last digit' };

/**
 * A number pad of big keys under a real input, so that a keyboard, a voice or
 * a gauge that types can fill it just as well.
 */
export function Pad(props: PadProps) {
  const id = useId();
  const described = props.error ? `${id}-error` : undefined;
  const press = (key: PadKey) => props.onChange(padPress(props.value, key, props.decimals));
  return (
    <PlainForm class="pad" onSubmit={() => props.onDone()}>
      <label class="field-label" for={id}>
        {props.label}
      </label>
      <div class="pad-window">
        <Input
          id={id}
          class="pad-input"
          type="text"
          inputMode="none"
          maxLength={10}
          value={props.value}
          aria-describedby={described}
          aria-invalid={Boolean(props.error)}
          onInput={(event) => props.onChange(event.currentTarget.value)}
        />
        <span class="pad-unit">{props.unit}</span>
      </div>
      {props.error ? (
        <p class="field-error" id={`${id}-error`} role="alert">
          {props.error}
        </p>
      ) : null}
      <div class="pad-keys" role="group" aria-label="Number keys">
        {keys.map((key) => (
          <button
            key={key}
            type="button"
            class="pad-key"
            aria-label={keyName[key]}
            disabled={key === 'point' && props.decimals === 0}
            onClick={() => press(key)}
          >
            {keyFace[key] ?? key}
          </button>
        ))}
      </div>
      <button type="submit" class="button button-main button-big pad-done">
        {props.doneLabel}
      </button>
    </PlainForm>
  );
}
