import { numberWords } from '../../ui/words';
import { figureField, openFigures, readFigures, typedOf, type FigureField, type Typed } from '../../ui/figures';
import type { FixedTo, MountKind, MountNoted, Visit } from '../../lib/model.gen';

export const mountKindWords: readonly { readonly value: MountKind; readonly label: string }[] = [
  { value: 'fixed', label: 'Fixed arm' },
  { value: 'swing-away', label: 'Swing-away arm' },
  { value: 'gooseneck', label: 'Gooseneck' },
  { value: 'tray', label: 'On or in a tray' },
  { value: 'midline', label: 'Midline arm' },
  { value: 'behind-head', label: 'Behind the head' },
  { value: 'glove', label: 'On a glove or splint' },
];

export const fixedToWords: readonly { readonly value: FixedTo; readonly label: string }[] = [
  { value: 'seat', label: 'seat frame' },
  { value: 'back', label: 'back frame' },
  { value: 'armrest', label: 'armrest' },
  { value: 'tray', label: 'tray' },
];

export const checkWords = {
  index: 'Comes back to a stop by itself',
  tilt: 'Tried at full tilt',
  recline: 'Tried at full recline',
  transfer: 'Tried after a transfer',
  collision: 'Nothing collides',
} as const;

export type MountCheck = keyof typeof checkWords;
export const mountChecks = Object.keys(checkWords) as readonly MountCheck[];

const needed = { needed: true };

export const placeFields = [
  figureField('mount-noted', 'forward_mm', 'A. Forward from the back post', needed),
  figureField('mount-noted', 'up_mm', 'B. Up from the seat', needed),
  figureField('mount-noted', 'side_mm', 'C. To the right of the midline', {
    ...needed,
    hint: 'With a minus to the left, seen by the driver.',
  }),
];

function angle<K extends 'pitch_deg' | 'roll_deg' | 'yaw_deg'>(key: K, label: string, hint: string): FigureField<K> {
  return figureField('mount-noted', key, label, { decimals: 1, hint: `${hint} Blank is straight.` });
}

export const angleFields = [
  angle('pitch_deg', 'Pitch', 'Forward or back, forward positive.'),
  angle('roll_deg', 'Roll', 'To a side, right positive.'),
  angle('yaw_deg', 'Yaw', 'About its own stem, to the right positive.'),
];

export const gapFields = [
  figureField('mount-noted', 'gap_mm', 'Gap from knob to skin at rest', { ...needed, often: ['0', '5', '10', '15', '20'] }),
  figureField('mount-noted', 'clear_s', 'Time to clear the mount', {
    least: 0.1,
    decimals: 1,
    hint: 'To get the face or arm free. Blank when not timed.',
  }),
];

const allFields = [...placeFields, ...angleFields, ...gapFields];

export interface MountForm {
  readonly kind: string;
  readonly fixedTo: string;
  readonly figures: Typed;
  readonly checks: Readonly<Record<MountCheck, boolean>>;
  readonly note: string;
}

export function mountFormOf(mount: MountNoted | undefined): MountForm {
  return {
    kind: mount?.kind ?? '',
    fixedTo: mount?.fixed_to ?? '',
    figures: typedOf(allFields, mount),
    checks: Object.fromEntries(mountChecks.map((check) => [check, mount?.[check] ?? false])) as Record<MountCheck, boolean>,
    note: mount?.note ?? '',
  };
}

/** What must be known of a mounting before it counts, and is not. */
export function openInMount(form: MountForm): Typed {
  return {
    ...(form.kind === '' ? { kind: 'the kind of mount' } : {}),
    ...(form.fixedTo === '' ? { fixed_to: 'what it is fixed to' } : {}),
    ...openFigures(allFields, form.figures),
  };
}

export type ReadMount = { readonly mount: MountNoted } | { readonly errors: Typed };

/** What is to be saved, or what is wrong, field by field. */
export function readMount(form: MountForm): ReadMount {
  const { values, errors } = readFigures(allFields, form.figures);
  const wrong: Record<string, string> = { ...errors };
  if (form.kind === '') wrong.kind = 'Expected one kind of mount, got none.';
  if (form.fixedTo === '') wrong.fixed_to = 'Expected what it is fixed to, got nothing.';
  if (Object.keys(wrong).length > 0) return { errors: wrong };
  const { clear_s, ...figures } = values;
  const note = form.note.trim();
  return {
    mount: {
      kind: form.kind,
      fixed_to: form.fixedTo,
      ...figures,
      ...(clear_s > 0 ? { clear_s } : {}),
      ...form.checks,
      ...(note === '' ? {} : { note }),
    },
  };
}

/** The question of the checklist that the time to clear the mount answers too. */
export const CLEARING = 'mnt-clear';

/** The seconds that clearing took at that question; undefined while it has no answer, or two that wait for a choice. */
export function clearingTimed(visit: Pick<Visit, 'answers'>): number | undefined {
  const heads = visit.answers.find((one) => one.item === CLEARING)?.heads ?? [];
  const [head] = heads;
  return heads.length === 1 && head?.state === 'answered' ? head.number : undefined;
}

/** Where a figure below zero lies, in place of its sign. */
const against: Readonly<Record<string, string>> = {
  side_mm: 'to the left',
  pitch_deg: 'back',
  roll_deg: 'to the left',
  yaw_deg: 'to the left',
};

/** A figure of the sheet in words; of the clearing also what was timed at its question. */
export function sheetWords(field: FigureField, mount: MountNoted, timed: number | undefined): string {
  const value = typedOf([field], mount)[field.key];
  const words = against[field.key];
  const typed = !value
    ? ''
    : words && Number(value) < 0
      ? `${numberWords(-Number(value))} ${field.unit} ${words}`
      : `${value.replace('-', '−')} ${field.unit}`;
  if (field.unit === 'degrees') return typed || '0 degrees';
  const asked = field.key === 'clear_s' && timed !== undefined && timed !== mount.clear_s ? `${numberWords(timed)} s, at its question` : '';
  return [typed, asked].filter(Boolean).join('; ') || 'not timed';
}
