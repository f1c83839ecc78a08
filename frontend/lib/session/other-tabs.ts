/** This person's other tabs: they are told what changed on the disk, and lock together. */

type Message = { readonly changed: readonly string[]; readonly sent: boolean } | { readonly lock: true };

export interface OtherTabs {
  /** Says which subjects changed; `sent` when they came from an exchange, and so are not to be sent. */
  readonly changed: (subjects: Iterable<string>, sent: boolean) => void;
  readonly lock: () => void;
  readonly listen: (on: { readonly lock: () => void; readonly changed: (subjects: ReadonlySet<string>, sent: boolean) => void }) => void;
  readonly close: () => void;
}

/** `channel` is null where the browser has none; then tabs know nothing of each other. */
export function createOtherTabs(channel: BroadcastChannel | null): OtherTabs {
  const tell = (message: Message): void => channel?.postMessage(message);
  return {
    changed: (subjects, sent) => {
      tell({ changed: [...subjects], sent });
    },
    lock: () => {
      tell({ lock: true });
    },
    listen: (on) => {
      channel?.addEventListener('message', ({ data }: MessageEvent<Message>) => {
        if ('lock' in data) on.lock();
        else on.changed(new Set(data.changed), data.sent);
      });
    },
    close: () => {
      channel?.close();
    },
  };
}
