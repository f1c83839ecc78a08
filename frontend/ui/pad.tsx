import type { ComponentChildren } from 'preact';
import { useId, useRef } from 'preact/hooks';
import { Icon } from './icon';
import { Input, PlainForm } from './inputs';
import { usePadKeyboard } from './pad-keyboard';
import { padPress, type PadKey } from './pad-text';
import { useSwipe } from './swipe';
import { splitBurst } from './typing';

export interface PadProps {
  readonly label: string;
  /** What has been typed so far, as text; empty is blank, which is not 0. */
  readonly value: string;
  readonly unit: string;
  /** Digits after the point; 0 hides the point. */
  readonly decimals: number;
  readonly onChange: (value: string) => void;
  /** Called by Enter, by the big key and by a swipe, with the number and with what stands before it that is not part of it. */
  readonly onDone: (value: string, begun: string) => void;
  readonly doneLabel: string;
  readonly error?: string | undefined;
  /** What stands in one row with the number: what is there already, and what is still wanted. */
  readonly before?: ComponentChildren;
  readonly after?: ComponentChildren;
  /** Between the numbers and the keys. */
  readonly notice?: ComponentChildren;
  /** Takes back the last one, beside the big key. */
  readonly undo?: { readonly words: string; readonly onPress: () => void } | undefined;
  /** A pause is about to keep the number. */
  readonly keeping?: boolean | undefined;
}

const keys: readonly PadKey[] = ['7', '8', '9', 'back', '4', '5', '6', '0', '1', '2', '3', 'point'];

const keyFace: Readonly<Partial<Record<PadKey, string>>> = { point: '.', back: '⌫' };
const keyName: Readonly<Partial<Record<PadKey, string>>> = { point: 'point', back: 'delete the last digit' };

/** Keeps the focus where it is: what is typed next goes on into the number. */
const stay = (event: Event) => event.preventDefault();

function Keys(props: { readonly decimals: number; readonly onPress: (key: PadKey) => void }) {
  return (
    <div class="pad-keys" role="group" aria-label="Number keys">
      {keys.map((key) => (
        <button
          key={key}
          type="button"
          class="pad-key"
          aria-label={keyName[key]}
          disabled={key === 'point' && props.decimals === 0}
          onMouseDown={stay}
          onClick={() => props.onPress(key)}
        >
          {keyFace[key] ?? key}
        </button>
      ))}
    </div>
  );
}

/**
 * A number pad of big keys under a real input, so that a keyboard, a voice or
 * a gauge that types can fill it just as well.
 */
export function Pad(props: PadProps) {
  const id = useId();
  const input = useRef<HTMLInputElement>(null);
  const described = props.error ? `${id}-error` : undefined;
  const done = (at: number) => {
    const { reading, begun } = splitBurst(input.current?.value ?? props.value, burst.current, at);
    props.onDone(reading, begun);
  };
  const burst = usePadKeyboard(input, props.onChange, done);
  const swipe = useSwipe(() => {
    if (props.value !== '') done(Number.POSITIVE_INFINITY);
  });
  return (
    <PlainForm class="pad" onSubmit={() => done(Number.POSITIVE_INFINITY)}>
      <label class="field-label" for={id}>
        {props.label}
      </label>
      <div class="pad-touch" {...swipe}>
        <div class="pad-row">
          {props.before}
          <div class="pad-window">
            <Input
              id={id}
              ref={input}
              class="pad-input"
              type="text"
              inputMode="none"
              maxLength={16}
              value={props.value}
              aria-describedby={described}
              aria-invalid={Boolean(props.error)}
              onInput={(event) => props.onChange(event.currentTarget.value)}
            />
            <span class="pad-unit">{props.unit}</span>
          </div>
          {props.after}
        </div>
        {props.error ? (
          <p class="field-error" id={`${id}-error`} role="alert">
            {props.error}
          </p>
        ) : null}
        {props.notice}
        <div class="pad-board">
          <Keys decimals={props.decimals} onPress={(key) => props.onChange(padPress(props.value, key, props.decimals))} />
          <div class="pad-end">
            {props.undo ? (
              <button type="button" class="button button-plain button-big pad-undo" onMouseDown={stay} onClick={props.undo.onPress}>
                <Icon name="undo" /> Undo {props.undo.words}
              </button>
            ) : null}
            <button type="submit" class={`button button-main button-big pad-done${props.keeping ? ' pad-keeping' : ''}`} onMouseDown={stay}>
              {props.doneLabel}
            </button>
          </div>
        </div>
      </div>
    </PlainForm>
  );
}
