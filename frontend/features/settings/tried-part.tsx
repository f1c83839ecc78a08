import { useState } from 'preact/hooks';
import { AtOnceForm, More, Segments, TextField, useAtOnce, useDraft } from '../../ui';
import { OUTCOME_WORDS, triedWords, keyLabel, valueWords } from '../../ui/setting-words';
import { lengths, outcomes, type Setting, type Visit } from '../../lib/model.gen';
import { writeVisit } from '../../lib/visit-writer';

function TriedForm(props: { readonly visit: Visit; readonly setting: Setting }) {
  const { visit, setting } = props;
  const what = `${keyLabel(setting.key)}, ${setting.before} to ${valueWords(setting.after, setting.unit)}`;
  const draft = useDraft(
    { about: visit.id, name: `tried ${setting.ref}`, title: `How it went: ${what}` },
    { outcome: setting.tried?.outcome ?? '', note: setting.tried?.note ?? '' },
  );
  const { outcome, note } = draft.value;
  const once = useAtOnce({
    title: 'how it went',
    draft,
    open: (form): Readonly<Record<string, string>> => (form.outcome === '' ? { outcome: 'better, the same or worse' } : {}),
    read: (form) => {
      if (form.outcome === '') return { errors: { outcome: 'Expected better, the same or worse, got nothing.' } };
      const said = form.note.trim();
      return { body: { setting: setting.ref, outcome: form.outcome, ...(said === '' ? {} : { note: said }) } };
    },
    write: (body) => writeVisit(visit, 'setting-tried', body),
  });
  return (
    <AtOnceForm form={once} draft={draft}>
      <Segments
        big
        legend={what}
        value={outcome}
        options={outcomes.map((one) => ({ value: one, label: OUTCOME_WORDS[one] }))}
        onChange={(to) => draft.set((now) => ({ ...now, outcome: to }))}
      />
      <TextField
        label="What was seen"
        value={note}
        maxLength={lengths['setting-tried'].note}
        onInput={(to) => draft.set((now) => ({ ...now, note: to }))}
      />
    </AtOnceForm>
  );
}

/** Asks how each change went once it was driven with; what was said can be said again. */
export function TriedPart(props: { readonly visit: Visit; readonly settings: readonly Setting[] }) {
  const { visit, settings } = props;
  const forms = (list: readonly Setting[]) => list.map((one) => <TriedForm key={one.ref} visit={visit} setting={one} />);
  // What is said now stays where it is: the note that goes with it may still come.
  const [before] = useState(() => new Set(settings.filter((one) => triedWords(one) !== '').map((one) => one.ref)));
  const open = settings.filter((one) => !before.has(one.ref));
  const said = settings.filter((one) => before.has(one.ref));
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
