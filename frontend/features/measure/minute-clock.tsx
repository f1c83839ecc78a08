import { useEffect, useState } from 'preact/hooks';
import { Button, clockWords } from '../../ui';
import { feel } from '../../ui/feedback';
import { useRunningCount } from '../../ui/running-count';
import { elapsedOf } from '../../lib/trial/clock';
import { freshCount, start } from '../../lib/trial/counter';
import { steadyNow } from '../../lib/trial/moment';

/** How long one waits for force that is not meant, in milliseconds. */
const minute = 60_000;

/** The sixty seconds of one occasion: one touch starts them, and the end is felt and said. */
export function MinuteClock(props: { readonly visit: string; readonly occasion: string }) {
  const { count, change } = useRunningCount({
    about: props.visit,
    name: `minute ${props.occasion}`,
    title: 'The 60 s of force that is not meant',
  });
  const [over, setOver] = useState(false);
  const { clock } = count;
  const running = clock.since !== null;
  const passed = elapsedOf(clock, steadyNow());
  const done = passed >= minute;
  useEffect(() => {
    if (!done) return;
    feel();
    change(() => freshCount);
    setOver(true);
  }, [done]);
  const begin = () => {
    setOver(false);
    change((one) => start({ ...one, ends: minute }, steadyNow()));
  };
  const again = over ? 'Another 60 s' : 'Start the 60 s';
  return (
    <div class="minute-clock">
      <div class="actions">
        {running ? (
          <span class="minute-left" role="timer" aria-label="Seconds left">
            {clockWords(Math.ceil(Math.max(0, minute - passed) / 1000) * 1000)}
          </span>
        ) : (
          <Button size="big" onPress={begin}>
            {passed > 0 ? `Go on with the last ${Math.ceil((minute - passed) / 1000)} s` : again}
          </Button>
        )}
        {running || passed > 0 ? (
          <Button kind="quiet" size="big" onPress={() => change(() => freshCount)}>
            Take the start back
          </Button>
        ) : null}
      </div>
      <p class="field-hint" role="status">
        {over ? 'The 60 s are over: type the highest force that was seen.' : ''}
      </p>
    </div>
  );
}
