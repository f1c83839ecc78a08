import type {
  Amendment,
  Answer,
  AnswerGiven,
  Event,
  Given,
  OverrideMade,
  PlanAgreed,
  Reading,
  ReadingTaken,
  Ref,
  Run,
  RunTimed,
  SettingChanged,
  SetupChosen,
  Stamp,
  Visit,
  VisitSigned,
} from '../model.gen';
import { readBody, type Body } from './body';
import { tabletOf } from './event';
import { createKitFold, type KitState } from './fold-kit';
import { createRetests } from './retests';

type Editable<T> = { -readonly [K in keyof T]: T[K] };

export interface VisitFold {
  readonly add: (stamp: Stamp, event: Event, body: Body | null) => void;
  readonly visit: () => Visit;
}

/** What an amendment may carry. */
const amendable: ReadonlySet<string> = new Set([
  'visit-noted',
  'answer-given',
  'answer-chosen',
  'reading-taken',
  'reading-marked',
  'run-timed',
  'run-marked',
  'setup-chosen',
  'plan-agreed',
  'override-made',
  'kit-packed',
  'needs-noted',
  'needs-unset',
  'chair-measured',
  'place-measured',
  'setting-changed',
  'setting-tried',
  'mount-noted',
]);

/** What can be set aside with a reason: a reading or a run. */
interface Slipped {
  readonly ref: Ref;
  readonly slip?: string;
}

/** The same as the last mark says, whether the mark came before it or after. */
function withSlip<T extends Slipped>(one: T, marks: ReadonlyMap<Ref, string>): T {
  const { slip: _, ...rest } = one;
  const reason = marks.get(one.ref);
  return (reason ? { ...rest, slip: reason } : rest) as T;
}

/** One visit's fold under way; events must come in order. */
export function createVisitFold(): VisitFold {
  const visit: Editable<Omit<Visit, 'answers' | 'readings' | 'runs' | 'amendments' | keyof KitState>> = {
    id: '',
    client: '',
    team: '',
    checklist: { id: '', version: '', hash: '' },
    unit: '',
    started: { ref: '', by: '', at: '', pos: 0 },
    notes: {},
    unknown: 0,
  };
  const heads = new Map<string, readonly Given[]>();
  const readings: Reading[] = [];
  const runs: Run[] = [];
  const amendments: Amendment[] = [];
  const slips = new Map<Ref, string>();
  const kit = createKitFold();
  const retests = createRetests();
  const runSlips = new Map<Ref, string>();

  const start = (stamp: Stamp, event: Event, body: Body): void => {
    if (visit.id !== '') return;
    Object.assign(visit, body, { id: event.subject, started: stamp });
  };

  /** An answer takes the place of those that its tablet had seen. */
  const answer = (stamp: Stamp, seen: number, body: AnswerGiven): void => {
    const tablet = tabletOf(stamp.ref);
    const stays = (head: Given) => tabletOf(head.ref) !== tablet && !(head.pos !== 0 && head.pos <= seen);
    heads.set(body.item, [...(heads.get(body.item) ?? []).filter(stays), retests.answer({ ...stamp, ...body }, seen)]);
  };

  /** The answers that yield go; one that nobody chose about stays. */
  const choose = (item: string, drop: readonly Ref[]): void => {
    const left = (heads.get(item) ?? []).filter((head) => !drop.includes(head.ref));
    if (left.length > 0) heads.set(item, left);
  };

  const taken = (stamp: Stamp, seen: number, body: ReadingTaken): void => {
    readings.push(retests.reading(withSlip<Reading>({ ...stamp, ...body }, slips), seen));
  };

  const changed = (stamp: Stamp, body: SettingChanged): void => {
    if (!retests.change(stamp, body.key)) return;
    readings.forEach((one, at) => {
      readings[at] = retests.dueReading(one);
    });
    for (const [item, list] of heads) heads.set(item, list.map(retests.dueAnswer));
  };

  const mark = <T extends Slipped>(list: T[], marks: Map<Ref, string>, ref: Ref, body: Body): void => {
    marks.set(ref, body['slip'] === true ? ((body['reason'] as string | undefined) ?? '') : '');
    const at = list.findIndex((one) => one.ref === ref);
    const had = list[at];
    if (had) list[at] = withSlip(had, marks);
  };

  const apply = (stamp: Stamp, event: Event, kind: string, body: Body): void => {
    switch (kind) {
      case 'visit-started':
        start(stamp, event, body);
        break;
      case 'visit-noted':
        visit.notes = { ...visit.notes, ...(body['fields'] as Record<string, string>) };
        break;
      case 'answer-given':
        answer(stamp, event.seen, body as unknown as AnswerGiven);
        break;
      case 'answer-chosen':
        choose(body['item'] as string, body['drop'] as readonly Ref[]);
        break;
      case 'reading-taken':
        taken(stamp, event.seen, body as unknown as ReadingTaken);
        break;
      case 'reading-marked':
        mark(readings, slips, body['reading'] as Ref, body);
        break;
      case 'run-timed':
        runs.push(withSlip<Run>({ ...stamp, ...(body as unknown as RunTimed) }, runSlips));
        break;
      case 'run-marked':
        mark(runs, runSlips, body['run'] as Ref, body);
        break;
      case 'setup-chosen':
        visit.setup = { ...stamp, ...(body as unknown as SetupChosen) };
        break;
      case 'plan-agreed':
        visit.plan = { ...stamp, ...(body as unknown as PlanAgreed) };
        break;
      case 'override-made':
        visit.override = { ...stamp, ...(body as unknown as OverrideMade) };
        break;
      case 'visit-signed':
        visit.signed = { ...stamp, ...(body as unknown as VisitSigned) };
        break;
      case 'setting-changed':
        kit.apply(stamp, kind, body);
        changed(stamp, body as unknown as SettingChanged);
        break;
      default:
        kit.apply(stamp, kind, body);
    }
  };

  /** A change after signing, under the amendment's own stamp. */
  const amend = (stamp: Stamp, event: Event, body: Body): void => {
    const kind = body['kind'] as string;
    const inner = amendable.has(kind) ? readBody(kind, body['change']) : null;
    if (inner === null) {
      visit.unknown += 1;
      return;
    }
    apply(stamp, event, kind, inner);
    const note: Amendment = { ...stamp, reason: body['reason'] as string, kind };
    const item = kind === 'answer-given' || kind === 'answer-chosen' ? (inner['item'] as string) : '';
    amendments.push(item === '' ? note : { ...note, item });
  };

  return {
    add: (stamp, event, body) => {
      if (body === null) visit.unknown += 1;
      else if (event.kind === 'amendment-made') amend(stamp, event, body);
      else if (visit.signed === undefined) apply(stamp, event, event.kind, body);
    },
    visit: () => ({
      ...visit,
      ...kit.state(),
      answers: sortedAnswers(heads),
      readings: [...readings],
      runs: [...runs],
      amendments: [...amendments],
    }),
  };
}

/** By item id, byte for byte as the server sorts (ids are plain ASCII). */
function sortedAnswers(heads: ReadonlyMap<string, readonly Given[]>): readonly Answer[] {
  const answers = [...heads].map(([item, list]) => ({ item, heads: list }));
  return answers.sort((a, b) => (a.item < b.item ? -1 : a.item > b.item ? 1 : 0));
}
