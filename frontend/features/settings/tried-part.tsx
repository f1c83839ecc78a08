import { useState } from 'preact/hooks';
import { Button, Form, More, Segments, TextField, useSave } from '../../ui';
import { OUTCOME_WORDS, triedWords, keyLabel, valueWords } from '../../ui/setting-words';
import { lengths, outcomes, type Setting, type Visit } from '../../lib/model.gen';
import { writeVisit } from '../../lib/visit-writer';

function TriedForm(props: { readonly visit: Visit; readonly setting: Setting }) {
  const { visit, setting } = props;
  const [outcome, setOutcome] = useState(setting.tried?.outcome ?? '');
  const [note, setNote] = useState(setting.tried?.note ?? '');
  const [errors, setErrors] = useState<{ readonly outcome?: string }>({});
  const saver = useSave();
  const what = `${keyLabel(setting.key)}, ${setting.before} to ${valueWords(setting.after, setting.unit)}`;
  const save = async () => {
    setErrors(outcome === '' ? { outcome: 'Expected better, the same or worse, got nothing.' } : {});
    if (outcome === '' || saver.busy()) return;
    const said = note.trim();
    await saver.save('how it went', () =>
      writeVisit(visit, 'setting-tried', { setting: setting.ref, outcome, ...(said === '' ? {} : { note: said }) }),
    );
  };
  return (
    <div data-about={setting.ref}>
      <Form onSave={save} errors={errors} state={saver.state}>
        <Segments
          big
          legend={what}
          value={outcome}
          error={errors.outcome}
          options={outcomes.map((one) => ({ value: one, label: OUTCOME_WORDS[one] }))}
          onChange={setOutcome}
        />
        <TextField label="What was seen" value={note} maxLength={lengths['setting-tried'].note} onInput={setNote} />
        <div class="actions">
          <Button type="submit" label={`Save how it went: ${what}`}>
            Save how it went
          </Button>
        </div>
      </Form>
    </div>
  );
}

/** Asks how each change went once it was driven with; what was said can be said again. */
export function TriedPart(props: { readonly visit: Visit; readonly settings: readonly Setting[] }) {
  const { visit, settings } = props;
  const forms = (list: readonly Setting[]) => list.map((one) => <TriedForm key={one.ref} visit={visit} setting={one} />);
  const open = settings.filter((one) => triedWords(one) === '');
  const said = settings.filter((one) => triedWords(one) !== '');
  if (settings.length === 0) return null;
  return (
    <section aria-labelledby="tried">
      <h2 id="tried">How did it go?</h2>
      {open.length > 0 ? <p>Drive with the change first, then say what it did.</p> : null}
      {forms(open)}
      {said.length > 0 ? <More summary="Say again how a change went">{forms(said)}</More> : null}
    </section>
  );
}
