import { merge } from '../../lib/draft/merge';
import { formDrafts } from '../../lib/form-drafts';
import type { Visit } from '../../lib/model.gen';

/** Where and how one is measuring right now; kept while one goes from screen to screen. */
export interface MeasurePlace {
  readonly site: string;
  readonly state: 'rested' | 'tired';
  readonly supported: boolean;
}

function usualSite(visit: Visit): string {
  return visit.setup?.site ?? visit.readings.at(-1)?.site ?? '';
}

const NAME = 'measured at';

function usualPlace(visit: Visit): MeasurePlace {
  return { site: usualSite(visit), state: 'rested', supported: true };
}

/** The place of a visit: as chosen last, else the chosen control's site, rested and supported. */
export function placeOf(visit: Visit): MeasurePlace {
  const usual = usualPlace(visit);
  const draft = formDrafts.of(visit.id).value[NAME];
  return draft === undefined ? usual : merge(null, draft.value, usual);
}

export function changePlace(visit: Visit, part: Partial<MeasurePlace>): void {
  formDrafts.put(visit.id, NAME, { value: { ...placeOf(visit), ...part }, before: null });
}
