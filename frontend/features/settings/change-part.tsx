import { AreaField, Button, Form, More, SelectField, TextField, type AnyDraft, type SaveState } from '../../ui';
import { keyWords, optionsOf, units } from '../../ui/setting-words';
import { lengths, type Setting } from '../../lib/model.gen';
import { chooseKey, type SettingErrors, type SettingForm } from './setting-form';

const longest = lengths['setting-changed'];

/** The form of one change of one setting. */
export function ChangeFields(props: {
  readonly form: SettingForm;
  readonly errors: SettingErrors;
  readonly settings: readonly Setting[];
  readonly onChange: (form: SettingForm) => void;
  readonly onSave: () => unknown;
  readonly draft: AnyDraft;
  readonly state: SaveState;
}) {
  const { form, errors, onChange } = props;
  const set = (field: keyof SettingForm) => (text: string) => onChange({ ...form, [field]: text });
  return (
    <Form onSave={props.onSave} errors={errors} draft={props.draft} state={props.state}>
      <div class="grid-fields">
        <SelectField
          label="Setting"
          value={form.key}
          options={optionsOf(keyWords, 'Choose …')}
          error={errors.key}
          onChange={(key) => onChange(chooseKey(form, key, props.settings))}
        />
        <TextField
          label="Profile"
          hint="For example: indoors. Blank when there is only one."
          value={form.profile}
          maxLength={longest.profile}
          onInput={set('profile')}
        />
      </div>
      <div class="grid-fields figure-inputs">
        <TextField label="Before" value={form.before} error={errors.before} maxLength={longest.before} onInput={set('before')} />
        <TextField label="After" value={form.after} error={errors.after} maxLength={longest.after} onInput={set('after')} />
        <SelectField label="Counted in" value={form.unit} options={units} onChange={set('unit')} />
      </div>
      <AreaField label="Why" rows={2} maxLength={longest.why} value={form.why} error={errors.why} onInput={set('why')} />
      <More summary="The maker’s words">
        <div class="grid-fields">
          <TextField label="The maker’s word for it" value={form.word} maxLength={longest.word} onInput={set('word')} />
          <TextField label="Version of its program" value={form.firmware} maxLength={longest.firmware} onInput={set('firmware')} />
        </div>
      </More>
      <div class="actions">
        <Button type="submit" kind="main" size="big">
          Save this change
        </Button>
      </div>
    </Form>
  );
}
