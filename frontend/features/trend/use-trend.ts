import { useEffect, useMemo, useState } from 'preact/hooks';
import { reasonOf } from '../../ui/saved';
import { openVisit, trend as askTrend, type ClientView, type VisitView } from '../../lib';
import type { Trend, TrendQuestion } from '../../lib/model.gen';

/** Every visit of the client, oldest first; second ratings are of the same trial and are left out. */
export function useViews(view: ClientView): { readonly cards: ClientView['visits']; readonly views: readonly VisitView[] } {
  const cards = view.visits.filter((card) => card.secondOf === '' && !card.blind).toReversed();
  const ids = cards.map((card) => card.id).join(' ');
  const signals = useMemo(() => cards.map((card) => openVisit(card.id)), [ids]);
  return { cards, views: signals.flatMap((one) => one.value ?? []) };
}

/** The engine's answer; the last one stands while the next is on its way. */
export function useTrend(question: TrendQuestion): { readonly trend: Trend | null; readonly error: string } {
  const [held, setHeld] = useState<{ readonly trend: Trend | null; readonly error: string }>({ trend: null, error: '' });
  const asked = JSON.stringify(question);
  useEffect(() => {
    let wanted = true;
    askTrend(question).then(
      (trend) => wanted && setHeld({ trend, error: '' }),
      (error: unknown) => wanted && setHeld({ trend: null, error: reasonOf(error) }),
    );
    return () => {
      wanted = false;
    };
  }, [asked]);
  return held;
}
