/** The states of this tablet as they are now. */
import { computed, signal, type ReadonlySignal, type Signal } from '@preact/signals';
import { clients, records, session, syncState } from '../../lib';
import { onlyHere, states, type Facts, type Room, type State } from './state-list';
import { offlineCopy, updateState } from './update';

const room: Signal<Room> = signal({ kept: null, left: null });
const minute: Signal<number> = signal(Date.now());
const LOOK_EVERY_MS = 60_000;

async function readRoom(): Promise<void> {
  // Some browsers have no storage manager, and some will not say.
  const storage = (navigator as { readonly storage?: Partial<StorageManager> }).storage;
  const [estimate, kept] = await Promise.all([
    storage?.estimate?.().catch(() => null) ?? null,
    storage?.persisted?.().catch(() => null) ?? null,
  ]);
  const left = estimate?.quota === undefined ? null : estimate.quota - (estimate.usage ?? 0);
  room.value = { left, kept };
}

/** Looks at the clock and the room now and then, and when something says that they have changed. */
export function watchStates(): void {
  const look = (): void => {
    minute.value = Date.now();
    void readRoom();
  };
  setInterval(look, LOOK_EVERY_MS);
  document.addEventListener('visibilitychange', look);
  records.subscribe(look);
  session.subscribe(look);
}

/** Reads the room again, before somebody looks at it. */
export const lookAgain = (): void => {
  void readRoom();
};

const facts = computed((): Facts => ({
  now: minute.value,
  sync: syncState.value,
  records: records.value,
  room: room.value,
  update: updateState.value,
  offlineCopy: offlineCopy.value,
  visitsHere:
    syncState.value.waiting === 0
      ? 0
      : clients.value.flatMap((one) => one.visits).filter((one) => one.sync === 'here' || one.sync === 'waiting').length,
}));

export const statesNow: ReadonlySignal<readonly State[]> = computed(() => states(facts.value));
export const longOnlyHere: ReadonlySignal<State | null> = computed(() => onlyHere(facts.value));
