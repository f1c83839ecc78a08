import { useCallback, useEffect, useRef, useState } from 'preact/hooks';
import { clockWords } from '../../ui';
import { joinClocks } from '../../lib/trial/clock';

interface GiantTimerProps {
  readonly startWords: string;
  readonly stopWords: string;
  /** For the button that is held down meanwhile: from when to when. */
  readonly heldWords: string;
  /** Seconds after which it stops by itself. */
  readonly most: number;
  /** Called with the seconds counted, to a hundredth. */
  readonly onTimed: (seconds: number) => void;
  /** Called when the most was reached; without it the most is the time. */
  readonly onTooLong?: (() => void) | undefined;
}

/** Counts at the touch itself, not at the lift of the finger: a tenth of a second matters here. */
function useTouch(act: (at: number) => void) {
  const armed = useRef(false);
  return {
    onPointerDown: (event: PointerEvent) => {
      armed.current = true;
      act(event.timeStamp);
    },
    onClick: (event: MouseEvent) => {
      const counted = armed.current;
      armed.current = false;
      if (!counted) act(event.timeStamp); // A keyboard or a screen reader sends no pointer.
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
      begin(event.timeStamp);
    },
    onPointerUp: (event: PointerEvent) => lifted(() => end(event.timeStamp)),
    onPointerCancel: () => lifted(broken),
    onContextMenu: (event: MouseEvent) => event.preventDefault(),
  };
}

/** One button the size of a hand: touch to start, touch to stop. Below it one that is held down instead, for one touch a time. */
export function GiantTimer(props: GiantTimerProps) {
  const { most, onTimed, onTooLong } = props;
  const [since, setSince] = useState<number | null>(null);
  // A finger may be lifted before the button is drawn anew.
  const from = useRef<number | null>(null);
  from.current = since;
  const [now, setNow] = useState(0);
  const [word, setWord] = useState('');
  const finish = useCallback(
    (seconds: number) => {
      setSince(null);
      if (seconds >= most && onTooLong) onTooLong();
      else onTimed(Math.round(Math.min(seconds, most) * 100) / 100);
    },
    [most, onTimed, onTooLong],
  );
  useEffect(() => {
    if (since === null) return undefined;
    const timer = setInterval(() => {
      const passed = (performance.now() - since) / 1000;
      setNow(passed);
      if (passed >= most) finish(most);
    }, 100);
    const leave = joinClocks(
      () => {
        setSince(null);
        setWord('Paused. That one was not counted.');
      },
      () => true,
    );
    return () => {
      clearInterval(timer);
      leave();
    };
  }, [since, most, finish]);
  const begin = (at: number) => {
    setWord('');
    setNow(0);
    setSince(at);
    from.current = at;
  };
  const end = (at: number) => from.current !== null && finish((at - from.current) / 1000);
  const touch = useTouch((at) => (since === null ? begin(at) : end(at)));
  const held = useHeld(begin, end, () => {
    setSince(null);
    setWord('Broken off. That one was not counted.');
  });
  return (
    <div class="giant">
      <button type="button" class={since === null ? 'giant-button' : 'giant-button giant-on'} {...touch}>
        <span class="giant-word">{since === null ? props.startWords : props.stopWords}</span>
        <span class="giant-time" aria-hidden="true">
          {since === null ? '' : clockWords(now * 1000, true)}
        </span>
      </button>
      {/* A keyboard has the button above. */}
      <button type="button" class="giant-held" tabIndex={-1} {...held}>
        {props.heldWords}
      </button>
      <p role="status" class="field-hint">
        {word}
      </p>
    </div>
  );
}
