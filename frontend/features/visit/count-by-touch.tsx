import { useEffect, useState } from 'preact/hooks';
import { Button, clockWords } from '../../ui';
import { rangeOf } from '../../ui/answer';
import { feel } from '../../ui/feedback';
import type { Item } from '../../lib';
import { counters } from '../../lib/counters';
import { elapsedOf } from '../../lib/trial/clock';
import { freshCount, start, stop, tap, tapsOf, untap, type Count } from '../../lib/trial/counter';

/** One thing that is tapped. */
interface Pad {
  readonly id: string;
  readonly label: string;
}

/** Of a fixed number each try is right or missed; with sides, each on its side. */
function padsOf(item: Item): readonly Pad[] {
  if (item.sides)
    return [
      { id: 'left', label: 'Left seen' },
      { id: 'right', label: 'Right seen' },
      { id: 'left-missed', label: 'Left missed' },
      { id: 'right-missed', label: 'Right missed' },
    ];
  if (item.of === undefined) return [{ id: 'hit', label: 'Once more' }];
  return [
    { id: 'hit', label: 'Right' },
    { id: 'missed', label: 'Missed' },
  ];
}

/** Whether an item is counted try by try. */
export function countableBy(item: Item): boolean {
  return item.type === 'count';
}

const triesOf = (count: Count, side: string) => tapsOf(count, side) + tapsOf(count, `${side}-missed`);

/** How many tries are still to come; 0 when all were made, undefined where there is no end. */
function triesLeft(item: Item, count: Count): number | undefined {
  if (item.of === undefined) return undefined;
  return item.of - count.taps.length;
}

/** A side that has had all its tries takes no more. */
function isFull(item: Item, count: Count, pad: Pad): boolean {
  if (item.sides) return triesOf(count, pad.id.replace('-missed', '')) >= rangeOf(item).most;
  return (triesLeft(item, count) ?? 1) <= 0;
}

export interface Counted {
  readonly number: number;
  readonly left: number;
  readonly right: number;
}

/** Counts the tries of an item by touch; after the last one the answer is given by itself. */
export function CountByTouch(props: { readonly visit: string; readonly item: Item; readonly onCounted: (counted: Counted) => void }) {
  const { item } = props;
  const key = `count/${props.visit}/${item.id}`;
  const count = counters.of(key).value;
  const [open, setOpen] = useState(count.taps.length > 0);
  const left = triesLeft(item, count);
  const finish = (done: Count) => {
    setOpen(false);
    counters.change(key, () => freshCount);
    props.onCounted({ number: tapsOf(done, 'hit'), left: tapsOf(done, 'left'), right: tapsOf(done, 'right') });
  };
  const touch = (pad: Pad) => {
    feel();
    const next = tap(count, pad.id);
    counters.change(key, () => next);
    if (triesLeft(item, next) === 0) finish(next);
  };
  if (!open)
    return (
      <Button kind="quiet" label={`Count by touch: ${item.title}`} onPress={() => setOpen(true)}>
        Count
      </Button>
    );
  return (
    <div class="counter" role="group" aria-label={`Count: ${item.title}`}>
      <div class="counter-pads">
        {padsOf(item).map((pad) => (
          <button
            key={pad.id}
            type="button"
            class="counter-pad"
            aria-disabled={isFull(item, count, pad) ? 'true' : undefined}
            onClick={() => {
              if (!isFull(item, count, pad)) touch(pad);
            }}
          >
            <span class="counter-count">{tapsOf(count, pad.id)}</span>
            <span class="counter-word">{pad.label}</span>
          </button>
        ))}
      </div>
      <p class="counter-state" role="status">
        {left === undefined ? `${count.taps.length} counted` : `${count.taps.length} of ${item.of ?? 0}`}
      </p>
      <div class="actions">
        {left === undefined ? (
          <Button kind="main" size="big" onPress={() => finish(count)}>
            Keep {count.taps.length}
          </Button>
        ) : null}
        <Button size="big" disabled={count.taps.length === 0} onPress={() => counters.change(key, untap)}>
          Undo last
        </Button>
        <Button
          kind="quiet"
          onPress={() => {
            counters.change(key, () => freshCount);
            setOpen(false);
          }}
        >
          Leave
        </Button>
      </div>
    </div>
  );
}

/** A stopwatch beside a number of seconds: touch, touch, and the time is the answer. */
export function TimeByTouch(props: { readonly visit: string; readonly item: Item; readonly onTimed: (seconds: number) => void }) {
  const { item } = props;
  const key = `time/${props.visit}/${item.id}`;
  const { clock } = counters.of(key).value;
  const running = clock.since !== null;
  const [, redraw] = useState(0);
  useEffect(() => {
    if (!running) return undefined;
    const timer = setInterval(() => redraw((n) => n + 1), 100);
    return () => clearInterval(timer);
  }, [running]);
  const now = () => Date.now();
  const finish = () => {
    const time = Math.round(elapsedOf(clock, now()) / 100) / 10;
    counters.change(key, () => freshCount);
    props.onTimed(Math.min(rangeOf(item).most, Math.max(rangeOf(item).least, time)));
  };
  const stopped = !running && clock.carried > 0;
  return (
    <>
      <Button
        size="big"
        kind={running ? 'main' : 'plain'}
        label={`${running ? 'Stop the clock' : 'Time it'}: ${item.title}`}
        onPress={() => {
          feel();
          if (running) finish();
          else counters.change(key, (count) => start(stopped ? freshCount : count, now()));
        }}
      >
        {running ? `Stop ${clockWords(elapsedOf(clock, now()), true)}` : 'Time it'}
      </Button>
      {stopped ? (
        <Button kind="quiet" onPress={() => finish()}>
          The clock stood at {clockWords(clock.carried, true)}: keep it
        </Button>
      ) : null}
      {running ? (
        <Button kind="quiet" onPress={() => counters.change(key, (count) => stop({ ...count, clock: freshCount.clock }, now()))}>
          Leave
        </Button>
      ) : null}
    </>
  );
}
