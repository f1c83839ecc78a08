import { AtOnceForm, Button, SavedLine, Segments, TextField, useAtOnce, useDraft, useSave } from '../../ui';
import { bare, headsOf } from '../../ui/answer';
import { findItem } from '../../ui/visit/links';
import type { VisitView } from '../../lib';
import { dateOf, daysAfter } from '../../lib/dates';
import type { Visit } from '../../lib/model.gen';
import { isOpen, writeVisit } from '../../lib/visit-writer';

/** The question of the checklist that a date for looking again stands beside. */
export const RECHECK = 'hnd-recheck';

/** Weeks after which one often looks again. */
const usual: readonly number[] = [4, 8, 12];

interface Plan {
  readonly recheck: string;
  readonly note: string;
}

/**
 * Whether the date and the answer to "Recheck booked" fit: the one never gives or takes
 * the other by itself, since a date that was agreed stands in nobody's diary yet.
 */
export function bookedBeside(visit: Visit, recheck: string): 'ask' | 'yes' | 'no date' | undefined {
  const heads = headsOf(visit, RECHECK);
  const yes = heads.length === 1 && heads[0]?.level === 'yes';
  if (recheck === '') return yes ? 'no date' : undefined;
  if (yes) return 'yes';
  return heads.every((one) => one.state === 'not-tested') ? 'ask' : undefined;
}

/** What happens next, as it is typed and saved by itself; the same wherever it is shown. */
export function usePlan(view: VisitView) {
  const { visit } = view;
  const draft = useDraft<Plan>(
    { about: visit.id, name: 'plan', title: 'What happens next' },
    { recheck: visit.plan?.recheck ?? '', note: visit.plan?.note ?? '' },
  );
  const once = useAtOnce({
    title: 'what happens next',
    draft,
    open: () => ({}),
    read: ({ recheck, note }: Plan) => ({
      body: { ...(recheck === '' ? {} : { recheck }), ...(note.trim() === '' ? {} : { note: note.trim() }) },
    }),
    write: (body) => writeVisit(visit, 'plan-agreed', body),
  });
  return { draft, once };
}

/** When to look again: weeks after the visit in one touch, or any date. */
export function RecheckField(props: { readonly view: VisitView; readonly value: string; readonly onChange: (date: string) => void }) {
  const { visit, result } = props.view;
  const due = result?.recheck?.weeks ?? 0;
  const from = dateOf(new Date(visit.started.at));
  const weeks = [...new Set([...usual, ...(due > 0 ? [due] : [])])].toSorted((a, b) => a - b);
  return (
    <div class="recheck">
      <Segments
        legend="Look again"
        value={props.value}
        options={weeks.map((one) => ({ value: daysAfter(from, 7 * one), label: `in ${one} weeks` }))}
        onChange={props.onChange}
      />
      <TextField label="Recheck on" type="date" value={props.value} onInput={props.onChange} />
    </div>
  );
}

/** The question of the checklist beside the date that was agreed: one touch answers it, and takes it back where the date is gone. */
export function BookedLine(props: { readonly view: VisitView }) {
  const { visit, checklist } = props.view;
  const saver = useSave();
  const beside = bookedBeside(visit, visit.plan?.recheck ?? '');
  if (beside === undefined || findItem(checklist, RECHECK) === undefined || !isOpen(visit)) return null;
  if (beside === 'yes') return <p class="field-hint">In the diary: “Recheck booked” is answered yes.</p>;
  const { note } = bare(headsOf(visit, RECHECK)[0], RECHECK);
  const said = beside === 'ask' ? { state: 'answered', level: 'yes' } : { state: 'not-tested' };
  const give = () =>
    saver.save(beside === 'ask' ? 'recheck booked' : 'recheck not booked', () =>
      writeVisit(visit, 'answer-given', { item: RECHECK, ...said, ...(note ? { note } : {}) }),
    );
  return (
    <div class="stack">
      {beside === 'no date' ? <p>“Recheck booked” is answered yes, and no date is agreed.</p> : null}
      <Button onPress={() => void give()}>{beside === 'ask' ? 'It is in the diary' : 'It is not booked'}</Button>
      {saver.state.kind === 'failed' ? <SavedLine state={saver.state} /> : null}
    </div>
  );
}

/** The date beside the question whether the recheck is booked. */
export function RecheckOfItem(props: { readonly view: VisitView }) {
  const { draft, once } = usePlan(props.view);
  return (
    <AtOnceForm form={once} draft={draft}>
      <RecheckField view={props.view} value={draft.value.recheck} onChange={(recheck) => draft.set((now) => ({ ...now, recheck }))} />
      {bookedBeside(props.view.visit, draft.value.recheck) === 'no date' ? (
        <p class="field-hint">Answered yes, and no date is agreed.</p>
      ) : null}
    </AtOnceForm>
  );
}
