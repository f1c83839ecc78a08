import { readFigures, typedOf, type FigureField, type Typed } from '../../ui/figures';
import type { PlaceKind as KindId, PlaceMeasured } from '../../lib/model.gen';

type PlaceKey = Exclude<keyof PlaceMeasured, 'place' | 'kind' | 'name' | 'gone'>;

/** A kind of place and the figures that say whether the chair gets through. */
export interface PlaceKind {
  readonly id: KindId;
  readonly label: string;
  readonly fields: readonly FigureField<PlaceKey>[];
  /** It is judged without a plan. */
  readonly noPlan?: boolean;
}

function mm(key: PlaceKey, label: string, least: number, most: number, hint?: string): FigureField<PlaceKey> {
  return { key, label, unit: 'mm', least, most, hint };
}

const clear = mm('width_mm', 'Clear width', 400, 2000, 'Leaf open, between the narrowest points, handles and skirting counted.');
const corridor = mm('corridor_mm', 'Corridor', 600, 3000);

export const placeKinds: readonly PlaceKind[] = [
  { id: 'door', label: 'Door, driven straight', fields: [clear] },
  { id: 'door-off-corridor', label: 'Door at the side of a corridor', fields: [clear, corridor] },
  {
    id: 'corner',
    label: 'Corner',
    fields: [
      { ...corridor, label: 'Corridor driven in' },
      { ...corridor, key: 'corridor2_mm', label: 'Corridor driven out' },
    ],
  },
  { id: 'turn-on-spot', label: 'Full turn on the spot', fields: [mm('width_mm', 'Free floor, shorter side', 400, 10_000)] },
  { id: 'half-turn', label: 'Half turn in a corridor', fields: [corridor] },
  { id: 'three-point', label: 'Three-point turn in a corridor', fields: [corridor] },
  { id: 'corridor', label: 'Corridor', fields: [corridor] },
  {
    id: 'ramp',
    label: 'Ramp',
    noPlan: true,
    fields: [
      mm('rise_mm', 'Rise', 1, 3000, 'How much higher the end is.'),
      mm('run_mm', 'Run', 1, 60_000, 'Length on the flat, not along the slope.'),
      mm('width_mm', 'Clear width', 400, 10_000),
      mm('landing_mm', 'Landing', 1, 5000, 'The shortest level length at an end.'),
    ],
  },
  { id: 'threshold', label: 'Threshold', noPlan: true, fields: [mm('height_mm', 'Height', 1, 300)] },
  {
    id: 'load',
    label: 'Lift, floor or hoist',
    noPlan: true,
    fields: [{ key: 'limit_kg', label: 'Rating on its plate', unit: 'kg', least: 1, most: 1000 }],
  },
];

export function kindOf(id: string): PlaceKind | undefined {
  return placeKinds.find((kind) => kind.id === id);
}

export interface PlaceForm {
  readonly kind: string;
  readonly name: string;
  readonly figures: Typed;
}

const allFields = [...new Map(placeKinds.flatMap((kind) => kind.fields.map((field) => [field.key, field]))).values()];

export function placeFormOf(place: PlaceMeasured | undefined): PlaceForm {
  return { kind: place?.kind ?? 'door', name: place?.name ?? '', figures: typedOf(allFields, place) };
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
  return { place: { place: id, kind: kind.id, name: form.name.trim() || kind.label, ...measured } };
}

/** The figures of a place, each with its name and unit. */
export function figuresOf(place: PlaceMeasured): readonly { readonly label: string; readonly value: string }[] {
  const typed = typedOf(kindOf(place.kind)?.fields ?? [], place);
  return (kindOf(place.kind)?.fields ?? []).map((field) => ({
    label: field.label,
    value: typed[field.key] ? `${typed[field.key]} ${field.unit}` : 'not measured',
  }));
}
