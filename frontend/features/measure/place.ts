import { signal } from '@preact/signals';
import type { Visit } from '../../lib/model.gen';

/** Where and how one is measuring right now; kept while one goes from screen to screen. */
export interface MeasurePlace {
  readonly site: string;
  readonly state: 'rested' | 'tired';
  readonly supported: boolean;
}

const places = signal<ReadonlyMap<string, MeasurePlace>>(new Map());

function usualSite(visit: Visit): string {
  return visit.setup?.site ?? visit.readings.at(-1)?.site ?? '';
}

/** The place of a visit: as chosen last, else the chosen control's site, rested and supported. */
export function placeOf(visit: Visit): MeasurePlace {
  return places.value.get(visit.id) ?? { site: usualSite(visit), state: 'rested', supported: true };
}

export function changePlace(visit: Visit, part: Partial<MeasurePlace>): void {
  places.value = new Map([...places.value, [visit.id, { ...placeOf(visit), ...part }]]);
}
