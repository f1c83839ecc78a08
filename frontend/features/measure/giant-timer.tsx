import { useCallback, useEffect, useRef, useState } from 'preact/hooks';
import { clockWords } from '../../ui';
import { joinClocks } from '../../lib/trial/clock';

interface GiantTimerProps {
  readonly startWords: string;
  readonly stopWords: string;
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

/** One button the size of a hand: touch to start, touch to stop. */
export function GiantTimer(props: GiantTimerProps) {
  const { most, onTimed, onTooLong } = props;
  const [since, setSince] = useState<number | null>(null);
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
  const touch = useTouch((at) => {
    setWord('');
    if (since !== null) return finish((at - since) / 1000);
    setNow(0);
    setSince(at);
  });
  return (
    <div class="giant">
      <button type="button" class={since === null ? 'giant-button' : 'giant-button giant-on'} {...touch}>
        <span class="giant-word">{since === null ? props.startWords : props.stopWords}</span>
        <span class="giant-time" aria-hidden="true">
          {since === null ? '' : clockWords(now * 1000, true)}
        </span>
      </button>
      <p role="status" class="field-hint">
        {word}
      </p>
    </div>
  );
}
