import { useState } from 'preact/hooks';
import {
  AreaField,
  Banner,
  Button,
  Form,
  SavedLine,
  Segments,
  SelectField,
  TextField,
  dateWords,
  levelWord,
  useDraft,
  useSave,
} from '../../ui';
import { useLimits } from '../../ui/limits';
import { Facts, Part } from '../../ui/part';
import { OVERRIDE_REASONS, overrideReasonWords } from '../../ui/result/words';
import { lengths, type Result, type Visit } from '../../lib/model.gen';
import { isOpen, mayWrite, roleIn, writeVisit } from '../../lib/visit-writer';
import {
  choosableLevels,
  EMPTY_OVERRIDE,
  mayRaise,
  overrideBody,
  overrideProblems,
  raiseLimits,
  raises,
  type OverrideDraft,
} from './override-form';

interface OverrideProps {
  readonly visit: Visit;
  readonly result: Result;
  /** The reader's own date, 2006-01-02. */
  readonly today: string;
}

/** The therapist's decision against the calculated level, within its limits. */
export function OverridePart(props: OverrideProps) {
  const { value: open, set: setOpen } = useDraft({ about: props.visit.id, name: 'override open' }, false);
  const saver = useSave();
  const mayDecide = mayWrite(roleIn(props.visit.team), 'override-made');
  return (
    <Part title="Therapist decision">
      <StandingOverride visit={props.visit} result={props.result} />
      {mayDecide ? null : <p class="quiet-line">Clinicians and leads can decide on another level.</p>}
      {mayDecide && !isOpen(props.visit) ? <p class="quiet-line">The visit is signed. Choose “Amend” above first.</p> : null}
      {mayDecide && isOpen(props.visit) ? (
        <Button onPress={() => setOpen(!open)} expanded={open}>
          {open ? 'Leave the level as it is' : 'Decide on another level'}
        </Button>
      ) : null}
      {open ? <OverrideForm {...props} saver={saver} onDone={() => setOpen(false)} /> : null}
      <SavedLine state={saver.state} />
    </Part>
  );
}

function StandingOverride(props: { readonly visit: Visit; readonly result: Result }) {
  const made = props.visit.override;
  if (!made)
    return (
      <p>The calculated level stands. A therapist may decide on a lower one at any time, or on the next higher one for up to four weeks.</p>
    );
  const rows: [string, string][] = [
    ['Decided', levelWord(made.level)],
    ['Calculated', levelWord(props.result.level)],
    ['Reason', overrideReasonWords(made.reason)],
    ['Explanation', made.text],
  ];
  if (made.mitigation) rows.push(['What makes it safe', made.mitigation]);
  if (made.agreed) rows.push(['Agreed by', made.agreed]);
  if (made.until) rows.push(['Until', dateWords(made.until)]);
  return <Facts rows={rows} />;
}

type Saver = ReturnType<typeof useSave>;

function OverrideForm(props: OverrideProps & { readonly saver: Saver; readonly onDone: () => void }) {
  const { visit, result, today } = props;
  const kept = useDraft<OverrideDraft>({ about: visit.id, name: 'override', title: 'The therapist’s decision' }, EMPTY_OVERRIDE);
  const { value: draft, set: setDraft } = kept;
  const [tried, setTried] = useState(false);
  const limits = raiseLimits(useLimits());
  const set = (change: Partial<OverrideDraft>) => setDraft((now) => ({ ...now, ...change }));
  const problems = overrideProblems(draft, result, today, limits);
  const wrong = (field: keyof OverrideDraft) => (tried ? problems.find((one) => one.field === field)?.message : undefined);
  const up = raises(draft, result);
  const submit = async () => {
    setTried(true);
    if (problems.length > 0) return;
    const saved = await props.saver.save('decision', () => writeVisit(visit, 'override-made', overrideBody(draft, today)));
    if (!saved) return;
    kept.drop();
    props.onDone();
  };
  return (
    <Form narrow onSave={submit} draft={kept}>
      {mayRaise(result) ? null : (
        <Banner tone="stop">
          What forbids driving can not be decided away. It has to be answered anew; until then the level can only go down.
        </Banner>
      )}
      <Segments
        legend={`Level instead of ${levelWord(result.level)}`}
        value={draft.level}
        error={wrong('level')}
        onChange={(level) => set({ level })}
        options={choosableLevels(result).map((level) => ({ value: level, label: levelWord(level) }))}
      />
      <SelectField
        label="Reason"
        value={draft.reason}
        options={[{ value: '', label: 'Choose…' }, ...OVERRIDE_REASONS]}
        onChange={(reason) => set({ reason })}
        error={wrong('reason')}
      />
      <AreaField
        label="Explanation"
        hint={up && limits !== null ? `At least ${limits.text} characters for a higher level.` : undefined}
        value={draft.text}
        maxLength={lengths['override-made'].text}
        onInput={(text) => set({ text })}
        error={wrong('text')}
      />
      <AreaField
        label="What makes it safe"
        hint={up ? undefined : 'Needed only for a higher level.'}
        rows={2}
        value={draft.mitigation}
        maxLength={lengths['override-made'].mitigation}
        onInput={(mitigation) => set({ mitigation })}
        error={wrong('mitigation')}
      />
      <TextField
        label="Who agreed"
        hint={up ? undefined : 'Needed only for a higher level.'}
        value={draft.agreed}
        maxLength={lengths['override-made'].agreed}
        onInput={(agreed) => set({ agreed })}
        error={wrong('agreed')}
      />
      <TextField
        label="Until"
        type="date"
        hint={up ? (limits === null ? undefined : `At most ${limits.days} days from today.`) : 'May stay empty for a lower level.'}
        value={draft.until}
        onInput={(until) => set({ until })}
        error={wrong('until')}
      />
      <p class="quiet-line">It prints as “therapist decision, calculated level was {levelWord(result.level)}”.</p>
      <Button kind="main" type="submit">
        Save the decision
      </Button>
    </Form>
  );
}
