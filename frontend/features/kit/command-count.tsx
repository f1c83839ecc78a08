import { useState } from 'preact/hooks';
import { Button, clockWords, numberWords } from '../../ui';
import { feel } from '../../ui/feedback';
import { useRunningCount } from '../../ui/running-count';
import { elapsedOf } from '../../lib/trial/clock';
import { freshCount, isFreshCount, perMinute, start, stop, tap, untap } from '../../lib/trial/counter';
import { steadyNow } from '../../lib/trial/moment';
import { ranges } from '../../lib/model.gen';

/** A shorter count says little about a minute, in milliseconds. */
const least = 30_000;

const { low, high } = ranges['needs-noted'].commands_per_min;

/** Commands of the driver, a touch each while the clock runs; what they come to a minute is the answer. */
export function CommandCount(props: { readonly visit: string; readonly onCounted: (perMinute: number) => void }) {
  const { count, change } = useRunningCount({ about: props.visit, name: 'commands', title: 'Commands a minute: the count' });
  const [asked, setAsked] = useState(false);
  const running = count.clock.since !== null;
  const passed = elapsedOf(count.clock, steadyNow());
  const rate = Math.min(high, Math.max(low, perMinute(count.taps.length, passed)));
  const leave = () => {
    change(() => freshCount);
    setAsked(false);
  };
  if (!asked && isFreshCount(count))
    return (
      <div class="actions">
        <Button onPress={() => setAsked(true)}>Count the commands by touch</Button>
      </div>
    );
  return (
    <div class="counter" role="group" aria-label="Commands a minute">
      <div class="counter-pads">
        <button
          type="button"
          class="counter-pad"
          aria-disabled={running ? undefined : 'true'}
          onClick={() => {
            if (!running) return;
            feel();
            change((one) => tap(one, 'command'));
          }}
        >
          <span class="counter-count">{count.taps.length}</span>
          <span class="counter-word">Command</span>
        </button>
      </div>
      <p class="counter-state">
        {count.taps.length} in {clockWords(passed)}
        {passed < least ? `, for at least ${clockWords(least)}` : `: ${numberWords(rate)} a minute`}
      </p>
      <div class="actions">
        {running ? (
          <Button
            kind="main"
            size="big"
            disabled={passed < least}
            onPress={() => {
              leave();
              props.onCounted(rate);
            }}
          >
            Keep {numberWords(rate)} a minute
          </Button>
        ) : (
          <Button kind="main" size="big" onPress={() => change((one) => start(one, steadyNow()))}>
            {passed === 0 ? 'Start the clock' : 'Go on counting'}
          </Button>
        )}
        {running ? (
          <Button size="big" onPress={() => change((one) => stop(one, steadyNow()))}>
            Stand still
          </Button>
        ) : null}
        <Button size="big" disabled={count.taps.length === 0} onPress={() => change(untap)}>
          Undo last
        </Button>
        <Button kind="quiet" onPress={leave}>
          Leave
        </Button>
      </div>
    </div>
  );
}
