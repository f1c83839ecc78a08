import { useEffect, useState } from 'preact/hooks';
import { Button } from './button';

export interface StopwatchProps {
  readonly label: string;
  /** Milliseconds counted by now. Asked again ten times a second while running. */
  readonly elapsed: () => number;
  readonly running: boolean;
  readonly onStart: () => void;
  readonly onStop: () => void;
  /** When given, the clock stops by itself at this many seconds. */
  readonly until?: number | undefined;
  readonly startLabel?: string | undefined;
  readonly stopLabel?: string | undefined;
  /** Tenths of a second, for short times; whole seconds else. */
  readonly tenths?: boolean | undefined;
}

/** Minutes and seconds, with tenths where asked: "1:05", "0:07.3". */
export function clockWords(milliseconds: number, tenths = false): string {
  const whole = Math.floor(milliseconds / 1000);
  const face = `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, '0')}`;
  return tenths ? `${face}.${Math.floor((milliseconds % 1000) / 100)}` : face;
}

/**
 * The face of a clock that somebody else keeps: it shows, it does not count, so
 * that nothing is lost when the page goes away.
 */
export function Stopwatch(props: StopwatchProps) {
  const [, redraw] = useState(0);
  const { running, until, elapsed, onStop } = props;
  useEffect(() => {
    if (!running) return undefined;
    const timer = setInterval(() => {
      redraw((count) => count + 1);
      if (until !== undefined && elapsed() >= until * 1000) onStop();
    }, 100);
    return () => clearInterval(timer);
  }, [running, until, elapsed, onStop]);
  return (
    <div class="stopwatch">
      <span class="stopwatch-face" role="timer" aria-label={props.label}>
        {clockWords(elapsed(), props.tenths)}
      </span>
      {running ? (
        <Button kind="main" size="big" onPress={onStop}>
          {props.stopLabel ?? 'Stop the clock'}
        </Button>
      ) : (
        <Button kind="main" size="big" onPress={props.onStart}>
          {props.startLabel ?? 'Start the clock'}
        </Button>
      )}
    </div>
  );
}
