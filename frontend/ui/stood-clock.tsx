import { counters } from '../lib/counters';
import { freshCount, type CountOf } from '../lib/trial/counter';
import { Button } from './button';
import { clockWords } from './stopwatch';

/** A time below this says nothing of what was timed, in milliseconds. */
const shortest = 1_000;

/**
 * A clock whose end nobody touched: it stood in a break, or since the app was closed.
 * The person says what it was; until then it is kept. Of one that ran while the app
 * was closed only the least that it was is known.
 */
export function StoodClock(props: {
  readonly which: CountOf;
  /** What is timed. */
  readonly label: string;
  /** Whether a shorter time than it was is the careful answer, and so may stand for it. */
  readonly longerIsBetter: boolean;
  /** Keeps the time as an entry. */
  readonly onKeep: () => void;
}) {
  const { which, label, longerIsBetter } = props;
  const { count, unwatched } = counters.of(which);
  const { clock } = count;
  const ended = unwatched === 0;
  if (clock.since !== null || (ended && clock.carried === 0)) return null;
  const at = clockWords(clock.carried, true);
  return (
    <div class="stack" role="group" aria-label={`The clock stood: ${label}`}>
      {ended ? <p role="status">The clock stood at {at}.</p> : <ClosedMeanwhile ran={at} closed={unwatched} />}
      <div class="actions">
        {ended || (longerIsBetter && clock.carried >= shortest) ? (
          <Button size="big" onPress={props.onKeep}>
            {ended ? `Keep ${at}` : `Keep ${at}, the least it was`}
          </Button>
        ) : null}
        {unwatched !== null && unwatched > 0 ? (
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

/** How long a clock ran that nobody watched to its end. */
function ClosedMeanwhile(props: { readonly ran: string; readonly closed: number | null }) {
  return (
    <p role="status">
      The app was closed while the clock ran. It had run for at least {props.ran}; how long it ran after that is not known
      {props.closed === null ? '' : `: the app was closed for ${clockWords(props.closed)} by this tablet’s clock`}.
    </p>
  );
}
