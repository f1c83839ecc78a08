import { figureField, openFigures, readFigures, typedOf, type FigureField, type Typed } from '../../ui/figures';
import { ranges, type ChairMeasured, type Drive } from '../../lib/model.gen';

type ChairKey = Exclude<keyof ChairMeasured, 'drive'>;

const needed = { needed: true };

export const chairFields: readonly FigureField<ChairKey>[] = [
  figureField('chair-measured', 'length_mm', 'Length', { ...needed, hint: 'Foremost point, with the feet, to the rearmost.' }),
  figureField('chair-measured', 'width_mm', 'Width', { ...needed, hint: 'Widest point, with control and hands.' }),
  figureField('chair-measured', 'ahead_mm', 'Drive axle to foremost point', {
    least: 1,
    most: ranges['chair-measured'].length_mm.high,
    hint: 'Blank when not measured: the usual place is assumed.',
  }),
  figureField('chair-measured', 'clearance_mm', 'Room wanted on each side', needed),
  figureField('chair-measured', 'slope_deg', 'Slope limit of this chair', {
    decimals: 1,
    hint: 'From its manual. Blank when not known.',
  }),
  figureField('chair-measured', 'step_mm', 'Step limit of this chair', {
    hint: 'The highest step that its manual allows. Blank when not known.',
  }),
  figureField('chair-measured', 'chair_kg', 'Weight of the chair', {
    least: 1,
    decimals: 1,
    hint: 'For lifts and floors. Blank when not known.',
  }),
  figureField('chair-measured', 'person_kg', 'Weight of the person', { decimals: 1, hint: 'With all that rides along.' }),
];

export const drives: readonly { readonly value: Drive; readonly label: string }[] = [
  { value: 'front', label: 'front' },
  { value: 'mid', label: 'middle' },
  { value: 'rear', label: 'rear' },
];

export interface ChairForm {
  readonly figures: Typed;
  readonly drive: string;
}

/** The form of the last measured chair, or an empty one with the usual clearance. */
export function chairFormOf(chair: ChairMeasured | undefined, clearance: number | undefined): ChairForm {
  const figures = typedOf(chairFields, chair);
  if (chair) return { figures, drive: chair.drive };
  return { figures: { ...figures, clearance_mm: clearance === undefined ? '' : String(clearance) }, drive: '' };
}

/** What must be known of a chair before it counts, and is not. */
export function openInChair(form: ChairForm): Typed {
  return { ...openFigures(chairFields, form.figures), ...(form.drive === '' ? { drive: 'the drive wheels' } : {}) };
}

export type ReadChair = { readonly chair: ChairMeasured } | { readonly errors: Typed };

/** What is to be saved, or what is wrong, field by field. */
export function readChair(form: ChairForm): ReadChair {
  const { values, errors } = readFigures(chairFields, form.figures);
  const wrong: Record<string, string> = { ...errors };
  if (form.drive === '') wrong.drive = 'Expected front, middle or rear, got nothing.';
  if (!wrong.ahead_mm && !wrong.length_mm && values.ahead_mm > values.length_mm) {
    wrong.ahead_mm = `Expected at most the length, ${values.length_mm} mm, got ${values.ahead_mm}.`;
  }
  if (Object.keys(wrong).length > 0) return { errors: wrong };
  return { chair: { ...values, drive: form.drive } };
}

/** The chair in a sentence. */
export function chairWords(chair: ChairMeasured): string {
  const drive = drives.find((one) => one.value === chair.drive)?.label ?? chair.drive;
  const axle = chair.ahead_mm > 0 ? `, axle ${chair.ahead_mm} mm behind the foremost point` : '';
  const known = [
    chair.slope_deg ? `slopes up to ${chair.slope_deg} degrees` : '',
    chair.step_mm ? `steps up to ${chair.step_mm} mm` : '',
    chair.chair_kg ? `chair ${chair.chair_kg} kg` : '',
    chair.person_kg ? `person ${chair.person_kg} kg` : '',
  ].filter((part) => part !== '');
  return `${chair.length_mm} mm long, ${chair.width_mm} mm wide with control and hands; drive wheels ${drive}${axle}; ${chair.clearance_mm} mm wanted on each side${known.length > 0 ? `; ${known.join(', ')}` : ''}.`;
}
