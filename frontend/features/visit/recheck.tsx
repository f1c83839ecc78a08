import { AtOnceForm, Segments, TextField, useAtOnce, useDraft } from '../../ui';
import { headsOf } from '../../ui/answer';
import { findItem } from '../../ui/visit/links';
import type { VisitView } from '../../lib';
import { dateOf, daysAfter } from '../../lib/dates';
import { writeVisit } from '../../lib/visit-writer';

/** The question of the checklist that a date for looking again answers. */
export const RECHECK = 'hnd-recheck';

/** Weeks after which one often looks again. */
const usual: readonly number[] = [4, 8, 12];

interface Plan {
  readonly recheck: string;
  readonly note: string;
}

/** A date that is agreed says that the recheck is booked: nobody is asked twice. */
async function answerBooked({ visit, checklist }: VisitView): Promise<void> {
  const heads = headsOf(visit, RECHECK);
  if (findItem(checklist, RECHECK) === undefined || heads.some((one) => one.state !== 'not-tested')) return;
  await writeVisit(visit, 'answer-given', { item: RECHECK, state: 'answered', level: 'yes' });
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
    write: async (body) => {
      await writeVisit(visit, 'plan-agreed', body);
      if ('recheck' in body) await answerBooked(view);
    },
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

/** The date beside the question whether the recheck is booked. */
export function RecheckOfItem(props: { readonly view: VisitView }) {
  const { draft, once } = usePlan(props.view);
  return (
    <AtOnceForm form={once} draft={draft}>
      <RecheckField view={props.view} value={draft.value.recheck} onChange={(recheck) => draft.set((now) => ({ ...now, recheck }))} />
    </AtOnceForm>
  );
}
