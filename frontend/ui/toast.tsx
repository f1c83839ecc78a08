import { signal } from '@preact/signals';
import { onPersonLeft } from '../lib';
import { usePlace } from './address';
import { Button } from './button';
import { Icon } from './icon';
import { createGate, reasonOf } from './saved';

/** What was kept last, and the way to take it back. */
export interface Kept {
  /** What became of it; "Kept" unless said. */
  readonly how?: string | undefined;
  /** What it was about: "Reversing straight". */
  readonly what: string;
  /** What stands there now: "2 Words". */
  readonly as?: string | undefined;
  /** Takes it back; rejects with what went wrong. Absent where nothing can be taken back. */
  readonly undo?: (() => Promise<unknown>) | undefined;
  /** What undo takes back, where that is something else. */
  readonly undoes?: string | undefined;
  /** The beginning of the addresses where it is told. */
  readonly within: string;
}

type Told = (Kept & { readonly failed?: string }) | null;
const told = signal<Told>(null);
onPersonLeft(() => {
  told.value = null;
});

/** Tells at the thumb what is now on this tablet. Only for what has reached the disk. */
export function tellKept(kept: Kept): void {
  told.value = kept;
}

/** Nothing is told any more. */
export function tellNothing(): void {
  told.value = null;
}

const gate = createGate();

/** Whether there is something to tell here. */
export function useKept(): Told {
  const { path } = usePlace();
  return told.value !== null && path.startsWith(told.value.within) ? told.value : null;
}

function undo(kept: Kept): void {
  void gate(async () => {
    try {
      await kept.undo?.();
      // Taking back may have told something itself.
      if (told.peek() === kept) told.value = null;
    } catch (error) {
      told.value = { ...kept, failed: reasonOf(error) };
    }
  });
}

/** One thing kept: its tick, its words, and the way to take it back. */
export function ToastBox(props: { readonly kept: NonNullable<Told>; readonly onUndo: () => void }) {
  const { kept } = props;
  return (
    <div class="toast">
      {kept.failed === undefined ? <Icon name="tick" /> : null}
      <span class="toast-text">
        {kept.failed === undefined ? `${kept.how ?? 'Kept'}: ` : `Not taken back. ${kept.failed} `}
        {kept.what}
        {kept.as === undefined ? null : (
          <>
            , <strong>{kept.as}</strong>
          </>
        )}
      </span>
      {kept.undo === undefined ? null : (
        <Button class="toast-undo" label={`Undo: ${kept.undoes ?? kept.what}`} onPress={props.onUndo}>
          <Icon name="undo" />
          Undo
        </Button>
      )}
    </div>
  );
}

/** The last thing kept. It stays until the next one: nobody must be quick. */
export function Toast() {
  const kept = useKept();
  return (
    <div class="toast-place" role="status">
      {kept === null ? null : <ToastBox kept={kept} onUndo={() => undo(kept)} />}
    </div>
  );
}
