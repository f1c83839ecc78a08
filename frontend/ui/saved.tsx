import { useEffect, useMemo, useRef, useState } from 'preact/hooks';

/** What became of the last thing entered. "saved" is only ever set after the tablet has it on disk. */
export type SaveState =
  | { readonly kind: 'idle' }
  | { readonly kind: 'saving' }
  | { readonly kind: 'saved'; readonly what: string }
  | { readonly kind: 'failed'; readonly message: string };

export interface Saver {
  readonly state: SaveState;
  /** Runs a write; resolves to true when it is on disk, to false when it failed. Never rejects. */
  readonly save: (what: string, write: () => Promise<unknown>) => Promise<boolean>;
  /** A write is under way right now: a second touch of the same button means nothing. */
  readonly busy: () => boolean;
}

/** What went wrong, in the words of whoever threw it. */
export function reasonOf(error: unknown): string {
  return error instanceof Error && error.message !== '' ? error.message : 'This did not work. Try again.';
}

const nothing: SaveState = { kind: 'idle' };

/** A write that is quicker than this, in milliseconds, is not said to be under way: most are, and a slow tablet draws less. */
const SAYS_SAVING_AFTER = 150;

/** Keeps the state of the last write for a SavedLine. */
export function useSave(): Saver {
  const [state, setState] = useState<SaveState>(nothing);
  const alive = useRef(true);
  const running = useRef(0);
  const slow = useRef<ReturnType<typeof setTimeout> | undefined>(undefined);
  useEffect(() => {
    alive.current = true;
    return () => {
      alive.current = false;
    };
  }, []);
  const save = useMemo(
    () =>
      async (what: string, write: () => Promise<unknown>): Promise<boolean> => {
        const set = (next: SaveState) => {
          if (alive.current) setState(next);
        };
        // What was said of the write before is not said of this one.
        if (running.current === 0) set(nothing);
        running.current += 1;
        slow.current ??= setTimeout(() => set({ kind: 'saving' }), SAYS_SAVING_AFTER);
        const done = () => {
          running.current -= 1;
          if (running.current > 0) return;
          clearTimeout(slow.current);
          slow.current = undefined;
        };
        try {
          await write();
          done();
          if (running.current === 0) set({ kind: 'saved', what });
          return true;
        } catch (error) {
          done();
          set({ kind: 'failed', message: reasonOf(error) });
          return false;
        }
      },
    [],
  );
  return { state, save, busy: () => running.current > 0 };
}

/** Lets work through one piece at a time: what comes meanwhile is not begun. */
export function createGate() {
  let busy = false;
  return async (work: () => Promise<unknown>): Promise<void> => {
    if (busy) return;
    busy = true;
    try {
      await work();
    } finally {
      busy = false;
    }
  };
}

/** Says whether the last entry is on this tablet. */
export function SavedLine(props: { readonly state: SaveState }) {
  const { state } = props;
  if (state.kind === 'failed') {
    return (
      <p class="saved saved-failed" role="alert">
        Not saved. {state.message}
      </p>
    );
  }
  return (
    <p class="saved" role="status">
      {state.kind === 'saving' ? 'Saving…' : null}
      {state.kind === 'saved' ? `Saved on this tablet: ${state.what}` : null}
    </p>
  );
}
