import { counters } from '../lib/counters';
import { freshCount, type CountOf } from '../lib/trial/counter';
import { Button } from './button';
import { clockWords } from './stopwatch';

/**
 * A clock whose end nobody touched: it stood in a break, or since the app was closed.
 * The person says what it was; until then it is kept.
 */
export function StoodClock(props: {
  readonly which: CountOf;
  /** What is timed. */
  readonly label: string;
  /** Keeps the time as an entry. */
  readonly onKeep: () => void;
}) {
  const { which, label } = props;
  const { count, unwatched } = counters.of(which);
  const { clock } = count;
  if (clock.since !== null || clock.carried === 0) return null;
  const at = clockWords(clock.carried, true);
  return (
    <div class="stack" role="group" aria-label={`The clock stood: ${label}`}>
      <p role="status">
        The clock stood at {at}
        {unwatched > 0 ? `, and the app was closed for ${clockWords(unwatched)} after that` : ''}.
      </p>
      <div class="actions">
        <Button size="big" onPress={props.onKeep}>
          Keep {at}
        </Button>
        {unwatched > 0 ? (
          <Button size="big" onPress={() => counters.goOn(which)}>
            It still runs: go on
          </Button>
        ) : null}
        <Button size="big" onPress={() => counters.change(which, () => freshCount)}>
          Throw it away
        </Button>
      </div>
    </div>
  );
}
