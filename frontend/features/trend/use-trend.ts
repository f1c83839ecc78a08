import { useEffect, useMemo, useState } from 'preact/hooks';
import { reasonOf } from '../../ui/saved';
import { openVisit, trend as askTrend, type ClientView, type VisitView } from '../../lib';
import { parseTrend, type TrendView } from './answer';

/** Every visit of the client, oldest first; second ratings are of the same trial and are left out. */
export function useViews(view: ClientView): { readonly cards: ClientView['visits']; readonly views: readonly VisitView[] } {
  const cards = view.visits.filter((card) => card.secondOf === '' && !card.blind).toReversed();
  const ids = cards.map((card) => card.id).join(' ');
  const signals = useMemo(() => cards.map((card) => openVisit(card.id)), [ids]);
  return { cards, views: signals.flatMap((one) => one.value ?? []) };
}

/** The engine's answer; the last one stands while the next is on its way. */
export function useTrend(text: string): { readonly trend: TrendView | null; readonly error: string } {
  const [held, setHeld] = useState<{ readonly trend: TrendView | null; readonly error: string }>({ trend: null, error: '' });
  useEffect(() => {
    let wanted = true;
    askTrend(text).then(
      (answer) => wanted && setHeld({ trend: parseTrend(answer), error: '' }),
      (error: unknown) => wanted && setHeld({ trend: null, error: reasonOf(error) }),
    );
    return () => {
      wanted = false;
    };
  }, [text]);
  return held;
}
