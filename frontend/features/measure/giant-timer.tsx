import { useEffect, useRef, useState } from 'preact/hooks';
import { clockWords } from '../../ui';
import { StoodClock } from '../../ui/stood-clock';
import { counters } from '../../lib/counters';
import { elapsedOf } from '../../lib/trial/clock';
import { freshCount, start, stop, type CountOf } from '../../lib/trial/counter';
import { steadyNow } from '../../lib/trial/moment';

interface GiantTimerProps {
  /** What is timed: its clock is taken up again after a reload. */
  readonly which: CountOf;
  readonly startWords: string;
  readonly stopWords: string;
  /** For the button that is held down meanwhile: from when to when. */
  readonly heldWords: string;
  /** Whether a longer time is the better one. */
  readonly longerIsBetter?: boolean | undefined;
  /** Seconds after which it stops by itself. */
  readonly most: number;
  /** Called with the seconds counted, to a hundredth. Resolves to whether they are kept. */
  readonly onTimed: (seconds: number) => Promise<boolean>;
  /** Called when the most was reached; without it the most is the time. */
  readonly onTooLong?: (() => void) | undefined;
}

/** Counts at the touch itself, not at the lift of the finger: a tenth of a second matters here. */
function useTouch(act: (at: number) => void) {
  const armed = useRef(false);
  return {
    onPointerDown: (event: PointerEvent) => {
      armed.current = true;
      act(steadyNow(event.timeStamp));
    },
    onClick: (event: MouseEvent) => {
      const counted = armed.current;
      armed.current = false;
      if (!counted) act(steadyNow(event.timeStamp)); // A keyboard or a screen reader sends no pointer.
    },
  };
}

/** Counts from the touch to the lift of the finger; a touch that is broken off counts nothing. */
function useHeld(begin: (at: number) => void, end: (at: number) => void, broken: () => void) {
  const held = useRef(false);
  const lifted = (then: () => void) => {
    if (!held.current) return;
    held.current = false;
    then();
  };
  return {
    onPointerDown: (event: PointerEvent) => {
      (event.currentTarget as Element).setPointerCapture(event.pointerId);
      held.current = true;
      begin(steadyNow(event.timeStamp));
    },
    onPointerUp: (event: PointerEvent) => lifted(() => end(steadyNow(event.timeStamp))),
    onPointerCancel: () => lifted(broken),
    onContextMenu: (event: MouseEvent) => event.preventDefault(),
  };
}

/** The clock of what is timed, and what ends it. */
function useClock(props: GiantTimerProps) {
  const { which, most, onTimed, onTooLong } = props;
  const { about, name, title } = which;
  const { clock } = counters.of(which).count;
  const running = clock.since !== null;
  const [, redraw] = useState(0);
  /** The time is on its way to the disk: until it is there, the clock stays, and nobody need be asked about it. */
  const [keeping, setKeeping] = useState(false);
  const seconds = () => elapsedOf(counters.of(which).count.clock, steadyNow()) / 1000;
  const finish = async (at: number) => {
    setKeeping(true);
    counters.change(which, (count) => stop(count, at));
    const timed = seconds();
    const late = timed >= most && onTooLong !== undefined;
    if (late) onTooLong();
    if (late || (await onTimed(Math.round(Math.min(timed, most) * 100) / 100))) {
      // The next may have been begun meanwhile.
      counters.change(which, (count) => (count.clock.since === null ? freshCount : count));
    }
    setKeeping(false);
  };
  const end = useRef(finish);
  end.current = finish;
  useEffect(() => {
    const { since, carried } = counters.of({ about, name, title }).count.clock;
    if (!running || since === null) return undefined;
    const over = since + most * 1000 - carried;
    if (steadyNow() >= over) {
      // It ran out while no screen showed it, so nobody saw whether it was held.
      counters.change({ about, name, title }, (count) => stop(count, over));
      return undefined;
    }
    const timer = setInterval(() => {
      redraw((turn) => turn + 1);
      if (steadyNow() >= over) void end.current(over);
    }, 100);
    return () => clearInterval(timer);
  }, [running, about, name, title, most]);
  return {
    running,
    keeping,
    seconds,
    finish,
    begin: (at: number) => counters.change(which, () => start({ ...freshCount, ends: most * 1000 }, at)),
  };
}

/** One button the size of a hand: touch to start, touch to stop. Below it one that is held down instead, for one touch a time. */
export function GiantTimer(props: GiantTimerProps) {
  const { which } = props;
  const { running, keeping, seconds, finish, begin } = useClock(props);
  const [brokenOff, setBrokenOff] = useState(false);
  const startAt = (at: number) => {
    setBrokenOff(false);
    begin(at);
  };
  // A finger may be lifted before this is drawn anew, and after a break stopped the clock.
  const goesOn = () => counters.of(which).count.clock.since !== null;
  const held = useHeld(
    (at) => !keeping && !goesOn() && startAt(at),
    (at) => goesOn() && void finish(at),
    () => {
      counters.change(which, () => freshCount);
      setBrokenOff(true);
    },
  );
  const touch = useTouch((at) => {
    if (running) void finish(at);
    else startAt(at);
  });
  return (
    <div class="giant">
      <button type="button" class={running ? 'giant-button giant-on' : 'giant-button'} {...touch}>
        <span class="giant-word">{running ? props.stopWords : props.startWords}</span>
        <span class="giant-time" aria-hidden="true">
          {running ? clockWords(seconds() * 1000, true) : ''}
        </span>
      </button>
      {keeping ? null : (
        <StoodClock
          which={which}
          label={which.title}
          longerIsBetter={props.longerIsBetter ?? false}
          onKeep={() => void finish(steadyNow())}
        />
      )}
      {/* A keyboard has the button above. */}
      <button type="button" class="giant-held" tabIndex={-1} {...held}>
        {props.heldWords}
      </button>
      <p role="status" class="field-hint">
        {brokenOff ? 'Broken off. That one was not counted.' : ''}
      </p>
    </div>
  );
}
