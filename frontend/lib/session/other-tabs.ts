/** This person's other tabs: they are told what changed on the disk, and lock together. */

type Message = { readonly changed: readonly string[]; readonly sent: boolean } | { readonly draft: string } | { readonly lock: true };

export interface OtherTabs {
  /** Says which subjects changed; `sent` when they came from an exchange, and so are not to be sent. */
  readonly changed: (subjects: Iterable<string>, sent: boolean) => void;
  /** Says which row of drafts was written. */
  readonly draft: (key: string) => void;
  readonly lock: () => void;
  readonly listen: (on: {
    readonly lock: () => void;
    readonly draft: (key: string) => void;
    readonly changed: (subjects: ReadonlySet<string>, sent: boolean) => void;
  }) => void;
  readonly close: () => void;
}

/** `channel` is null where the browser has none; then tabs know nothing of each other. */
export function createOtherTabs(channel: BroadcastChannel | null): OtherTabs {
  const tell = (message: Message): void => channel?.postMessage(message);
  return {
    changed: (subjects, sent) => {
      tell({ changed: [...subjects], sent });
    },
    draft: (key) => {
      tell({ draft: key });
    },
    lock: () => {
      tell({ lock: true });
    },
    listen: (on) => {
      channel?.addEventListener('message', ({ data }: MessageEvent<Message>) => {
        if ('lock' in data) on.lock();
        else if ('draft' in data) on.draft(data.draft);
        else on.changed(new Set(data.changed), data.sent);
      });
    },
    close: () => {
      channel?.close();
    },
  };
}
