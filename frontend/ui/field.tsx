import type { ComponentChildren } from 'preact';
import { useId, useRef } from 'preact/hooks';
import { showBidiControls } from './bidi-controls';
import { Input, Select, TextArea } from './inputs';

/** What a field's control must carry so that label, hint and error belong to it. */
export interface FieldIds {
  readonly id: string;
  readonly describedBy: string | undefined;
  readonly invalid: boolean;
}

export interface FieldProps {
  readonly label: string;
  readonly hint?: string | undefined;
  /** What is wrong and what was expected; shown and read out at once. */
  readonly error?: string | undefined;
  readonly children: (ids: FieldIds) => ComponentChildren;
}

/** A labelled place for one control. */
export function Field(props: FieldProps) {
  const id = useId();
  const described = [props.hint ? `${id}-hint` : '', props.error ? `${id}-error` : ''].filter((part) => part !== '');
  return (
    <div class={props.error ? 'field field-wrong' : 'field'}>
      <label class="field-label" for={id}>
        {props.label}
      </label>
      {props.hint ? (
        <p class="field-hint" id={`${id}-hint`}>
          {props.hint}
        </p>
      ) : null}
      {props.children({ id, describedBy: described.length > 0 ? described.join(' ') : undefined, invalid: Boolean(props.error) })}
      {props.error ? (
        <p class="field-error" id={`${id}-error`} role="alert">
          {props.error}
        </p>
      ) : null}
    </div>
  );
}

interface TextProps {
  readonly label: string;
  readonly value: string;
  /** Called on every change. */
  readonly onInput?: ((value: string) => void) | undefined;
  /** Called when the person leaves the field with another text than they last left it with. */
  readonly onCommit?: ((value: string) => void) | undefined;
  readonly hint?: string | undefined;
  readonly error?: string | undefined;
  readonly required?: boolean | undefined;
  /** As the record has it: what goes beyond is cut as it is typed or pasted. */
  readonly maxLength?: number | undefined;
  /** Texts that are often right: each a tap away, while the field is empty. */
  readonly suggestions?: readonly string[] | undefined;
}

/** Texts to tap instead of typing. They go once something stands in the field. */
function Suggestions(props: TextProps) {
  if (props.value !== '' || !props.suggestions?.length) return null;
  return (
    <span class="suggestions" role="group" aria-label={`Often: ${props.label}`}>
      {props.suggestions.map((text) => (
        <button
          key={text}
          type="button"
          class="suggestion"
          onClick={({ currentTarget }) => {
            props.onInput?.(text);
            props.onCommit?.(text);
            // For a form that saves itself it is a choice that was made: no field is left.
            currentTarget.form?.dispatchEvent(new Event('change'));
          }}
        >
          {text}
        </button>
      ))}
    </span>
  );
}

/** What cannot be seen in a field itself. */
const hidden = (props: TextProps) => {
  const shown = showBidiControls(props.value);
  return shown === props.value ? null : <p class="field-hint">Holds characters that turn the direction of writing: {shown}</p>;
};

type TextEvent = { readonly currentTarget: { readonly value: string } };

/**
 * Hands a text on when its field is left, once: also one that could not be saved,
 * or was typed before the page was closed, for which the browser knows no change.
 */
function useCommit({ onInput, onCommit }: TextProps) {
  const done = useRef(false);
  return {
    onFocus: () => {
      done.current = false;
    },
    onInput: ({ currentTarget }: TextEvent) => {
      done.current = false;
      onInput?.(currentTarget.value);
    },
    onChange: ({ currentTarget }: TextEvent) => {
      done.current = true;
      onCommit?.(currentTarget.value);
    },
    onBlur: ({ currentTarget }: TextEvent) => {
      if (!done.current) onCommit?.(currentTarget.value);
    },
  };
}

/** What one line and several have in common. */
const typing = (props: TextProps, ids: FieldIds, events: ReturnType<typeof useCommit>) => ({
  id: ids.id,
  class: 'input',
  required: props.required,
  maxLength: props.maxLength,
  'aria-describedby': ids.describedBy,
  'aria-invalid': ids.invalid,
  value: props.value,
  ...events,
});

/** One line of text. */
export function TextField(
  props: TextProps & {
    readonly type?: 'text' | 'password' | 'date' | 'search' | undefined;
    readonly inputMode?: 'text' | 'decimal' | 'numeric' | undefined;
    readonly autoComplete?: string | undefined;
  },
) {
  const events = useCommit(props);
  return (
    <Field label={props.label} hint={props.hint} error={props.error}>
      {(ids) => (
        <>
          <Input
            // The element's type is one union member each; they share all that is used here.
            type={(props.type ?? 'text') as 'text'}
            inputMode={props.inputMode}
            {...(props.autoComplete ? { autoComplete: props.autoComplete } : {})}
            {...typing(props, ids, events)}
          />
          <Suggestions {...props} />
          {props.type === 'password' ? null : hidden(props)}
        </>
      )}
    </Field>
  );
}

/** Several lines of text. */
export function AreaField(props: TextProps & { readonly rows?: number | undefined }) {
  const events = useCommit(props);
  return (
    <Field label={props.label} hint={props.hint} error={props.error}>
      {(ids) => (
        <>
          <TextArea rows={props.rows ?? 3} {...typing(props, ids, events)} />
          <Suggestions {...props} />
          {hidden(props)}
        </>
      )}
    </Field>
  );
}

export interface Option {
  readonly value: string;
  readonly label: string;
}

/** One of many, in the device's own list. For up to six choices use ChoiceRows or Segments. */
export function SelectField(props: {
  readonly label: string;
  readonly value: string;
  readonly options: readonly Option[];
  readonly onChange: (value: string) => void;
  readonly hint?: string | undefined;
  readonly error?: string | undefined;
}) {
  return (
    <Field label={props.label} hint={props.hint} error={props.error}>
      {(ids) => (
        <Select
          id={ids.id}
          class="input"
          aria-describedby={ids.describedBy}
          aria-invalid={ids.invalid}
          value={props.value}
          onChange={(event) => props.onChange(event.currentTarget.value)}
        >
          {props.options.map((option) => (
            <option key={option.value} value={option.value}>
              {option.label}
            </option>
          ))}
        </Select>
      )}
    </Field>
  );
}

/** A tick box with its sentence; the whole row is the target. */
export function CheckField(props: {
  readonly label: string;
  readonly checked: boolean;
  readonly onChange: (checked: boolean) => void;
  readonly hint?: string | undefined;
}) {
  const id = useId();
  return (
    <label class="check" for={id}>
      <Input
        id={id}
        type="checkbox"
        checked={props.checked}
        aria-describedby={props.hint ? `${id}-hint` : undefined}
        onChange={(event) => props.onChange(event.currentTarget.checked)}
      />
      <span class="check-text">
        {props.label}
        {props.hint ? (
          <span class="field-hint" id={`${id}-hint`}>
            {props.hint}
          </span>
        ) : null}
      </span>
    </label>
  );
}

/** Several ticks under one legend, beside each other where there is room. */
export function CheckGroup(props: {
  readonly legend: string;
  readonly options: readonly Option[];
  readonly checked: (value: string) => boolean;
  readonly onChange: (value: string, checked: boolean) => void;
}) {
  return (
    <fieldset class="group">
      <legend class="field-label">{props.legend}</legend>
      <div class="checks">
        {props.options.map(({ value, label }) => (
          <CheckField key={value} label={label} checked={props.checked(value)} onChange={(on) => props.onChange(value, on)} />
        ))}
      </div>
    </fieldset>
  );
}
