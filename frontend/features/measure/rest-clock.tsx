import { signal } from '@preact/signals';
import { useEffect, useState } from 'preact/hooks';
import { Button, clockWords } from '../../ui';
import { onPersonLeft } from '../../lib';
import { joinClocks } from '../../lib/trial/clock';
import { feel } from '../../ui/feedback';

/** How long a person rests before the next reading, in milliseconds: the two minutes of the engine's sentence. */
const rest = 120_000;

/** When the rest of a visit is over, by the clock of this page; it goes on while another screen is open. */
const over = signal<ReadonlyMap<string, number>>(new Map());
onPersonLeft(() => {
  over.value = new Map();
});
// A break does not end a rest.
joinClocks(
  () => undefined,
  () => [...over.peek().values()].some((end) => end > performance.now()),
);

function setOver(visit: string, at: number | undefined): void {
  over.value = new Map([...[...over.value].filter(([id]) => id !== visit), ...(at === undefined ? [] : [[visit, at] as const])]);
}

/** Two minutes of rest: one touch starts them, another ends them; the screen stays awake. */
export function RestClock(props: { readonly visit: string }) {
  const end = over.value.get(props.visit);
  const [now, setNow] = useState(() => performance.now());
  useEffect(() => {
    if (end === undefined) return undefined;
    setNow(performance.now());
    const timer = setInterval(() => {
      setNow(performance.now());
      if (performance.now() < end) return;
      feel();
      setOver(props.visit, undefined);
    }, 250);
    return () => clearInterval(timer);
  }, [end, props.visit]);
  const left = end === undefined ? rest : Math.max(0, Math.min(rest, Math.ceil((end - now) / 1000) * 1000));
  return (
    <Button
      size="big"
      class={end === undefined ? 'rest' : 'rest rest-on'}
      label={end === undefined ? 'Rest two minutes' : `Resting, ${Math.ceil(left / 1000)} seconds left. End the rest`}
      onPress={() => setOver(props.visit, end === undefined ? performance.now() + rest : undefined)}
    >
      {end === undefined ? 'Rest' : 'Resting'} <span class="rest-time">{clockWords(left)}</span>
    </Button>
  );
}
