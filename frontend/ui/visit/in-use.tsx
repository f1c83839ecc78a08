import { isInUse, type InUse } from '../../lib/records/in-use';
import type { Visit } from '../../lib/model.gen';
import { classWords } from '../control-classes';
import { siteWords } from '../sites';

/** "Grey stick at the chin", or what of it is known; '' for nothing. */
export function inUseWords(entry: InUse): string {
  const control = entry.control ? entry.control : entry.class ? classWords(entry.class) : '';
  const site = entry.site ? `at the ${siteWords(entry.site)}` : '';
  return [control, site].filter((part) => part !== '').join(' ');
}

/** With which control an entry was found, as it follows in a line; also that it does not count where that is another. */
export function withWords(visit: Pick<Visit, 'setup'>, entry: InUse): string {
  const words = inUseWords(entry);
  if (words === '') return '';
  return isInUse(entry, visit.setup) ? `, with ${words}` : `, with ${words}: does not count for the chosen control`;
}

/** Which control the next entry will be about. */
export function ControlInUse(props: { readonly visit: Visit }) {
  const { setup } = props.visit;
  return (
    <p class="field-hint">
      {setup === undefined
        ? 'No control is chosen yet: what you save counts for the first one that is.'
        : `Counts for ${inUseWords(setup)}, as in the set-up.`}
    </p>
  );
}
