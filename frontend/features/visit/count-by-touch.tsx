import { useEffect, useRef, useState } from 'preact/hooks';
import { Button, clockWords, useDraft } from '../../ui';
import { rangeOf } from '../../ui/answer';
import { feel } from '../../ui/feedback';
import { StoodClock } from '../../ui/stood-clock';
import type { Item } from '../../lib';
import { counters } from '../../lib/counters';
import { elapsedOf } from '../../lib/trial/clock';
import { freshCount, start, tap, tapsOf, untap, type TouchCount, type CountOf } from '../../lib/trial/counter';
import { steadyNow } from '../../lib/trial/moment';

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

const triesOf = (count: TouchCount, side: string) => tapsOf(count, side) + tapsOf(count, `${side}-missed`);

/** How many tries are still to come; 0 when all were made, undefined where there is no end. */
function triesLeft(item: Item, count: TouchCount): number | undefined {
  if (item.of === undefined) return undefined;
  return item.of - count.taps.length;
}

/** A side that has had all its tries takes no more. */
function isFull(item: Item, count: TouchCount, pad: Pad): boolean {
  if (item.sides) return triesOf(count, pad.id.replace('-missed', '')) >= rangeOf(item).most;
  return (triesLeft(item, count) ?? 1) <= 0;
}

export interface Counted {
  readonly number: number;
  readonly left: number;
  readonly right: number;
}

/**
 * Counts the tries of an item by touch; after the last one the answer is given by itself.
 * `onCounted` resolves to whether it is kept: until it is, the count stays.
 */
export function CountByTouch(props: {
  readonly visit: string;
  readonly item: Item;
  readonly onCounted: (counted: Counted) => Promise<boolean>;
}) {
  const { item, visit } = props;
  const which: CountOf = { about: visit, name: `count ${item.id}`, title: `${item.title}: the count` };
  const { count } = counters.of(which);
  const { value: opened, set: setOpen } = useDraft({ about: visit, name: `counting ${item.id}` }, false);
  const open = opened || count.taps.length > 0;
  const keeping = useRef(false);
  const left = triesLeft(item, count);
  const finish = async (done: TouchCount) => {
    if (keeping.current) return;
    keeping.current = true;
    const kept = await props.onCounted({ number: tapsOf(done, 'hit'), left: tapsOf(done, 'left'), right: tapsOf(done, 'right') });
    keeping.current = false;
    if (!kept) return;
    setOpen(false);
    counters.change(which, () => freshCount);
  };
  const touch = (pad: Pad) => {
    feel();
    const next = tap(count, pad.id);
    counters.change(which, () => next);
    if (triesLeft(item, next) === 0) void finish(next);
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
        {left === undefined || left <= 0 ? (
          <Button kind="main" size="big" onPress={() => void finish(count)}>
            Keep {count.taps.length}
          </Button>
        ) : null}
        <Button size="big" disabled={count.taps.length === 0} onPress={() => counters.change(which, untap)}>
          Undo last
        </Button>
        <Button
          kind="quiet"
          onPress={() => {
            counters.change(which, () => freshCount);
            setOpen(false);
          }}
        >
          Leave
        </Button>
      </div>
    </div>
  );
}

/** A stopwatch beside a number of seconds: touch, touch, and the time is the answer. `onTimed` keeps it as typed at once. */
export function TimeByTouch(props: { readonly visit: string; readonly item: Item; readonly onTimed: (seconds: number) => void }) {
  const { item, visit } = props;
  const which: CountOf = { about: visit, name: `time ${item.id}`, title: `${item.title}: the clock` };
  const { clock } = counters.of(which).count;
  const running = clock.since !== null;
  const [, redraw] = useState(0);
  useEffect(() => {
    if (!running) return undefined;
    const timer = setInterval(() => redraw((n) => n + 1), 100);
    return () => clearInterval(timer);
  }, [running]);
  const now = steadyNow;
  const finish = () => {
    const time = Math.round(elapsedOf(clock, now()) / 100) / 10;
    props.onTimed(Math.min(rangeOf(item).most, Math.max(rangeOf(item).least, time)));
    counters.change(which, () => freshCount);
  };
  return (
    <>
      <Button
        size="big"
        kind={running ? 'main' : 'plain'}
        label={`${running ? 'Stop the clock' : 'Time it'}: ${item.title}`}
        onPress={() => {
          feel();
          if (running) finish();
          else counters.change(which, () => start(freshCount, now()));
        }}
      >
        {running ? `Stop ${clockWords(elapsedOf(clock, now()), true)}` : 'Time it'}
      </Button>
      <StoodClock which={which} label={item.title} longerIsBetter={item.better === 'high'} onKeep={finish} />
      {running ? (
        <Button kind="quiet" onPress={() => counters.change(which, () => freshCount)}>
          Leave
        </Button>
      ) : null}
    </>
  );
}
