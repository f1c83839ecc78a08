/** Controls side by side, from the kit or in general. */
import { classes, classLabel } from '../../ui/control-classes';
import type { Limits } from '../../ui/limits';
import { dateWords } from '../../ui/words';
import type { Control, PackedControl, Quantity } from '../../lib/model.gen';
import { genericId } from './words';

export interface Comparable {
  readonly id: string;
  readonly name: string;
  readonly class: string;
  /** 0 where it is not known. */
  readonly start: number;
  readonly operate: number;
  readonly travel: number;
  readonly sealing: string;
  readonly powerJack: boolean;
  readonly modeJack: boolean;
  readonly attendant: boolean;
  /** When and by whom the figures were taken, where that is known. */
  readonly measured: string;
  /** A kind of control and not one of the kit. */
  readonly generic: boolean;
  /** The force to full command that the kind stands for, in words; '' for a control of the kit. */
  readonly range: string;
}

export function comparable(control: Control | PackedControl): Comparable {
  return {
    id: control.id,
    name: control.name,
    class: control.class,
    start: control.start_gf,
    operate: control.operate_gf,
    travel: control.travel_mm,
    sealing: control.sealing ?? '',
    powerJack: control.power_jack,
    modeJack: control.mode_jack,
    attendant: control.attendant,
    generic: false,
    range: '',
    measured:
      'measured' in control && control.measured
        ? `${dateWords(control.measured)}${control.measured_by ? `, ${control.measured_by}` : ''}`
        : '',
  };
}

/** The kinds of control that go by force, as the ranges that they stand for; no figure of a kind is drawn. */
export function genericControls(limits: Limits | null): readonly Comparable[] {
  const light = limits?.get('light-control');
  const heavy = limits?.get('rough-heavy');
  if (light === undefined || heavy === undefined) return [];
  const ranges: Readonly<Record<string, string>> = {
    standard: `more than ${heavy} gf`,
    small: `more than ${light}, up to ${heavy} gf`,
    'very-light': `up to ${light} gf`,
  };
  return classes.flatMap(({ id }) => {
    const range = ranges[id];
    if (range === undefined) return [];
    return [
      {
        id: genericId(id),
        name: `${classLabel(id)}, in general`,
        class: id,
        start: 0,
        operate: 0,
        travel: 0,
        range,
        sealing: '',
        powerJack: false,
        modeJack: false,
        attendant: false,
        measured: '',
        generic: true,
      },
    ];
  });
}

/** Whether there is a force to draw it at. */
export function hasFigures(control: Comparable): boolean {
  return control.operate > 0;
}

/** A travel of 0 is a figure only for a control that is meant not to move. */
export function knowsTravel(control: Comparable): boolean {
  return control.travel > 0 || control.class === 'force-sensing';
}

/** What was measured of the client at one site, in the weakest of the needed directions. */
export interface Reach {
  readonly site: string;
  /** gf */
  readonly force: number;
  /** mm; null while it was not measured. */
  readonly travel: number | null;
  readonly forceDirection: string;
  readonly travelDirection: string;
  /** The force or a part of it is assumed. */
  readonly assumed: boolean;
}

type Found = Quantity & { readonly value: number };

function least(figures: readonly Quantity[], name: string, site: string, needed: readonly string[]): Found | null {
  const there = needed.map((direction) =>
    figures.find((one): one is Found => one.name === name && one.site === site && one.direction === direction && one.value !== undefined),
  );
  // One needed direction without a figure leaves the corner of the area open.
  if (there.length === 0 || there.some((one) => one === undefined)) return null;
  return there.reduce<Found | null>((low, one) => (one !== undefined && (low === null || one.value < low.value) ? one : low), null);
}

/** What the client reaches at a site in every needed direction; null until each has a force. */
export function reachOf(figures: readonly Quantity[], site: string, needed: readonly string[]): Reach | null {
  const force = least(figures, 'usable', site, needed);
  if (force === null) return null;
  const travel = least(figures, 'travel', site, needed);
  return {
    site,
    force: force.value,
    travel: travel?.value ?? null,
    forceDirection: force.direction ?? '',
    travelDirection: travel?.direction ?? '',
    assumed: force.origin === 'assumed',
  };
}

export type Within = 'inside' | 'force' | 'travel' | 'both' | 'unknown';

/** Which figure of a control lies beyond the client's reach. It is what the drawing shows and no verdict. */
export function within(control: Comparable, reach: Reach): Within {
  if (!hasFigures(control)) return 'unknown';
  const heavy = control.operate > reach.force;
  const far = reach.travel !== null && knowsTravel(control) && control.travel > reach.travel;
  if (heavy) return far ? 'both' : 'force';
  if (far) return 'travel';
  return reach.travel === null || !knowsTravel(control) ? 'unknown' : 'inside';
}

export const WITHIN_WORDS: Readonly<Record<Within, string>> = {
  inside: 'inside the area',
  force: 'asks for more force than there is',
  travel: 'asks for more travel than there is',
  both: 'asks for more force and more travel than there is',
  unknown: 'not enough known to place it',
};
