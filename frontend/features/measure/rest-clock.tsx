import { useEffect, useRef, useState } from 'preact/hooks';
import { Button, clockWords } from '../../ui';
import { onPersonLeft } from '../../lib';
import { formDrafts } from '../../lib/form-drafts';
import { joinClocks } from '../../lib/trial/clock';
import { steadyNow } from '../../lib/trial/moment';
import { useDraft } from '../../ui/draft';
import { feel } from '../../ui/feedback';

/** How long a person rests before the next reading, in milliseconds: the two minutes of the engine's sentence. */
const rest = 120_000;

const REST = 'rest';

/** Milliseconds that are left of a rest that is over at `end`; 0 for none, also where the tablet's clock was set back since. */
function leftOf(end: unknown): number {
  const left = typeof end === 'number' ? end - steadyNow() : 0;
  return left > 0 && left <= rest ? left : 0;
}

/** The visits whose rest was shown; it goes on while another screen is open. */
const visits = new Set<string>();
onPersonLeft(() => visits.clear());
// A break does not end a rest.
joinClocks(
  () => undefined,
  () => [...visits].some((visit) => leftOf(formDrafts.of(visit).peek()[REST]?.value) > 0),
);

/** Two minutes of rest: one touch starts them, another ends them; the screen stays awake. */
export function RestClock(props: { readonly visit: string }) {
  visits.add(props.visit);
  // When it is over, so that a page that was gone meanwhile knows; nobody need have watched a rest.
  const { value: end, set } = useDraft<number | null>({ about: props.visit, name: REST }, null);
  const setEnd = useRef(set);
  setEnd.current = set;
  const [, redraw] = useState(0);
  useEffect(() => {
    if (end === null) return undefined;
    const timer = setInterval(() => {
      redraw((turn) => turn + 1);
      if (leftOf(end) > 0) return;
      // Told only to who waited for it.
      if (steadyNow() - end < 1_000) feel();
      setEnd.current(null);
    }, 250);
    return () => clearInterval(timer);
  }, [end]);
  const left = Math.ceil(leftOf(end) / 1000) * 1000;
  const on = left > 0;
  return (
    <Button
      size="big"
      class={on ? 'rest rest-on' : 'rest'}
      label={on ? `Resting, ${left / 1000} seconds left. End the rest` : 'Rest two minutes'}
      onPress={() => set(on ? null : steadyNow() + rest)}
    >
      {on ? 'Resting' : 'Rest'} <span class="rest-time">{clockWords(on ? left : rest)}</span>
    </Button>
  );
}
