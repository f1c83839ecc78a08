import { TextField } from './field';
import type { FigureField, Typed } from './figures';

/** One number field a figure, its unit in sight. */
export function FigureInputs(props: {
  readonly fields: readonly FigureField[];
  readonly typed: Typed;
  readonly errors: Typed;
  readonly onChange: (typed: Typed) => void;
}) {
  return (
    <div class="grid-fields figure-inputs">
      {props.fields.map((field) => (
        <TextField
          key={field.key}
          label={`${field.label} (${field.unit})`}
          hint={field.hint}
          error={props.errors[field.key]}
          inputMode={field.decimals || field.least < 0 ? 'text' : 'numeric'}
          value={props.typed[field.key] ?? ''}
          suggestions={field.often}
          onInput={(text) => props.onChange({ ...props.typed, [field.key]: text })}
        />
      ))}
    </div>
  );
}
