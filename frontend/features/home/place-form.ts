import { figureField, readFigures, typedOf, type FigureField, type Typed } from '../../ui/figures';
import type { PlaceKind as KindId, PlaceMeasured } from '../../lib/model.gen';

type PlaceKey = Exclude<keyof PlaceMeasured, 'place' | 'kind' | 'name' | 'not_needed' | 'leads_to' | 'gone'>;

/** A kind of place and the figures that say whether the chair gets through. */
export interface PlaceKind {
  readonly id: KindId;
  readonly label: string;
  readonly fields: readonly FigureField<PlaceKey>[];
  /** What such places are often called. */
  readonly names?: readonly string[];
  /** It is judged without a plan. */
  readonly noPlan?: boolean;
}

function figure(key: PlaceKey, label: string, more: Partial<FigureField> = {}): FigureField<PlaceKey> {
  return figureField('place-measured', key, label, more);
}

/** 0 is not measured. */
const aboveNothing = { least: 1 };

const clear = figure('width_mm', 'Clear width', {
  most: 2000,
  hint: 'Leaf open, between the narrowest points, handles and skirting counted.',
});
const corridor = figure('corridor_mm', 'Corridor');

export const placeKinds: readonly PlaceKind[] = [
  { id: 'door', label: 'Door, driven straight', fields: [clear], names: ['front door', 'bathroom door', 'bedroom door', 'kitchen door'] },
  {
    id: 'door-off-corridor',
    label: 'Door at the side of a corridor',
    fields: [clear, corridor],
    names: ['bathroom door', 'bedroom door', 'kitchen door'],
  },
  {
    id: 'corner',
    label: 'Corner',
    names: ['corner in the hall', 'corner before the bathroom'],
    fields: [
      { ...corridor, label: 'Corridor driven in' },
      { ...corridor, key: 'corridor2_mm', label: 'Corridor driven out' },
    ],
  },
  { id: 'turn-on-spot', label: 'Full turn on the spot', fields: [figure('width_mm', 'Free floor, shorter side')] },
  { id: 'half-turn', label: 'Half turn in a corridor', fields: [corridor] },
  { id: 'three-point', label: 'Three-point turn in a corridor', fields: [corridor] },
  { id: 'corridor', label: 'Corridor', fields: [corridor] },
  {
    id: 'ramp',
    label: 'Ramp',
    names: ['garden ramp', 'ramp at the front door'],
    noPlan: true,
    fields: [
      figure('rise_mm', 'Rise', { ...aboveNothing, hint: 'How much higher the end is.' }),
      figure('run_mm', 'Run', { ...aboveNothing, hint: 'Length on the flat, not along the slope.' }),
      figure('width_mm', 'Clear width'),
      figure('landing_mm', 'Landing', { ...aboveNothing, hint: 'The shortest level length at an end.' }),
    ],
  },
  { id: 'threshold', label: 'Threshold', noPlan: true, fields: [figure('height_mm', 'Height', aboveNothing)] },
  {
    id: 'load',
    label: 'Lift, floor or hoist',
    noPlan: true,
    fields: [figure('limit_kg', 'Rating on its plate', aboveNothing)],
  },
];

/** Places that most homes have, each with its kind: one touch says both. */
export const usualPlaces: readonly { readonly kind: KindId; readonly name: string }[] = placeKinds
  // A door is driven straight until somebody says otherwise.
  .filter((one) => one.id !== 'door-off-corridor')
  .flatMap((one) => (one.names ?? []).map((name) => ({ kind: one.id, name })));

export function kindOf(id: string): PlaceKind | undefined {
  return placeKinds.find((kind) => kind.id === id);
}

export interface PlaceForm {
  readonly kind: string;
  readonly name: string;
  /** What is reached through it, in the household's words. */
  readonly leadsTo: string;
  readonly needed: boolean;
  readonly figures: Typed;
}

const allFields = [...new Map(placeKinds.flatMap((kind) => kind.fields.map((field) => [field.key, field]))).values()];

export function placeFormOf(place: PlaceMeasured | undefined): PlaceForm {
  return {
    kind: place?.kind ?? 'door',
    name: place?.name ?? '',
    leadsTo: place?.leads_to ?? '',
    needed: place?.not_needed !== true,
    figures: typedOf(allFields, place),
  };
}

/** The first figure of a place that has none yet. */
export function openInPlace(form: PlaceForm): Typed {
  const [first, ...others] = kindOf(form.kind)?.fields ?? [];
  const blank = [first, ...others].every((field) => (form.figures[field?.key ?? ''] ?? '').trim() === '');
  return blank && first ? { [first.key]: 'a figure' } : {};
}

export type ReadPlace = { readonly place: PlaceMeasured } | { readonly errors: Typed };

/** What is to be saved, or what is wrong. A figure that was not measured may be left blank: the verdict then says so. */
export function readPlace(form: PlaceForm, id: string): ReadPlace {
  const kind = kindOf(form.kind);
  if (kind === undefined) return { errors: { kind: 'Expected one kind of place, got none.' } };
  const { values, errors } = readFigures(kind.fields, form.figures);
  if (Object.keys(errors).length > 0) return { errors };
  const measured = Object.fromEntries(Object.entries(values).filter(([, value]) => value !== 0));
  if (Object.keys(measured).length === 0) {
    const [first] = kind.fields;
    return { errors: first ? { [first.key]: 'Expected at least one figure, got none.' } : {} };
  }
  const leadsTo = form.leadsTo.trim();
  return {
    place: {
      place: id,
      kind: kind.id,
      name: form.name.trim() || kind.label,
      ...measured,
      ...(form.needed ? {} : { not_needed: true }),
      ...(leadsTo === '' ? {} : { leads_to: leadsTo }),
    },
  };
}

/** The figures of a place, each with its name and unit. */
export function figuresOf(place: PlaceMeasured): readonly { readonly label: string; readonly value: string }[] {
  const typed = typedOf(kindOf(place.kind)?.fields ?? [], place);
  return (kindOf(place.kind)?.fields ?? []).map((field) => ({
    label: field.label,
    value: typed[field.key] ? `${typed[field.key]} ${field.unit}` : 'not measured',
  }));
}
