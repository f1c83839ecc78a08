import { AreaField, Segments, SelectField, TextField } from '../../ui';
import { COURSE_WORDS } from '../../ui/needs';
import type { Membership } from '../../lib';
import { courses, priorities } from '../../lib/model.gen';
import { FIELD_LABELS, type ClientDraft, type ClientField, type FieldProblem } from './client-form';

interface ClientFieldsProps {
  readonly draft: ClientDraft;
  /** Teams to choose from; with one or none there is nothing to choose. */
  readonly teams: readonly Membership[];
  readonly problems: readonly FieldProblem[];
  readonly onChange: (draft: ClientDraft) => void;
}

/** The fields of a client, for a new one and for a change. */
export function ClientFields(props: ClientFieldsProps) {
  const { draft, teams } = props;
  const field = (name: ClientField) => ({
    label: FIELD_LABELS[name],
    value: draft[name],
    error: props.problems.find((one) => one.field === name)?.message,
    onInput: (value: string) => props.onChange({ ...draft, [name]: value }),
  });
  return (
    <div class="grid-fields client-fields">
      {teams.length > 1 ? (
        <SelectField
          label={FIELD_LABELS.team}
          value={draft.team}
          error={field('team').error}
          onChange={field('team').onInput}
          options={teams.map((team) => ({ value: team.id, label: team.name }))}
        />
      ) : null}
      <TextField {...field('name')} required />
      <TextField {...field('ref')} hint="The number that your service knows the client by. May stay empty." />
      <TextField {...field('born')} type="date" hint="May stay empty." />
      <TextField {...field('referred')} type="date" required hint="Waiting days count from here." />
      <Choice field={field('priority')} options={priorities.map((value) => ({ value, label: value }))} />
      <Choice field={field('course')} options={courses.map((value) => ({ value, label: COURSE_WORDS[value] }))} />
      <AreaField {...field('reason')} hint="In the referrer’s words. May stay empty." />
      <AreaField {...field('visiting')} hint="Parking, animals, who is there, infection, stairs. May stay empty." />
    </div>
  );
}

function Choice(props: {
  readonly field: {
    readonly label: string;
    readonly value: string;
    readonly error: string | undefined;
    readonly onInput: (value: string) => void;
  };
  readonly options: readonly { readonly value: string; readonly label: string }[];
}) {
  const { field, options } = props;
  return (
    <div class={field.error ? 'field field-wrong' : 'field'}>
      <Segments legend={field.label} value={field.value} options={options} onChange={field.onInput} />
      {field.error ? (
        <p class="field-error" role="alert">
          {field.error}
        </p>
      ) : null}
    </div>
  );
}
