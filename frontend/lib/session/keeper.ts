/** The service worker as a page reaches it; see pin-vault.ts for what it holds. */
import type { VaultAsk, VaultReply } from './pin-vault';
import type { Keeper, ResumableSession } from './resumable';

/** Browsers end a worker that nobody talks to after about half a minute. */
const ALIVE_EVERY_MS = 20_000;
const PATIENCE_MS = 5_000;

const nobody: Keeper = { tell: () => undefined, ask: () => Promise.resolve(null) };

export function createKeeper(workers: ServiceWorkerContainer | undefined): Keeper {
  if (workers === undefined) return nobody;
  let beat: ReturnType<typeof setInterval> | undefined;
  /** One message after the other, in the order in which they were said. */
  let last: Promise<unknown> = Promise.resolve();

  const send = (ask: VaultAsk<ResumableSession>, ports: MessagePort[] = []): Promise<boolean> => {
    const sent = last.then(async () => {
      const worker = (await workers.getRegistration())?.active;
      worker?.postMessage(ask, ports);
      return worker !== null && worker !== undefined;
    });
    last = sent.catch(() => undefined);
    return sent.catch(() => false);
  };

  const keepAlive = (on: boolean): void => {
    clearInterval(beat);
    beat = on ? setInterval(() => void send({ vault: 'alive' }), ALIVE_EVERY_MS) : undefined;
  };

  return {
    tell: (ask) => {
      keepAlive(ask.vault !== 'drop');
      void send(ask);
    },
    ask: async (ask) => {
      const { port1, port2 } = new MessageChannel();
      const reply = new Promise<VaultReply<ResumableSession> | null>((resolve) => {
        port1.addEventListener('message', ({ data }: MessageEvent<VaultReply<ResumableSession>>) => resolve(data));
        port1.start();
        setTimeout(() => resolve(null), PATIENCE_MS);
      });
      const got = (await send(ask, [port2])) ? await reply : null;
      port1.close();
      if (got?.kind === 'holds' && got.holds) keepAlive(true);
      return got;
    },
  };
}
