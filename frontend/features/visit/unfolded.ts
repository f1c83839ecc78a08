/** Parts of the checklist that stand below the one that was opened: each finished part is followed by the next that has something open. */
import { signal } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import { onPersonLeft, type Section, type VisitView } from '../../lib';
import { openItems } from './next';

const below = signal<ReadonlyMap<string, readonly string[]>>(new Map());
onPersonLeft(() => {
  below.value = new Map();
});

const keyOf = (visit: string, code: string) => `${visit}/${code}`;

/** The part of the address and those below it, in the order in which they were opened. */
export function partsShown(view: VisitView, code: string): readonly Section[] {
  const codes = [code, ...(below.value.get(keyOf(view.visit.id, code)) ?? [])];
  return codes.flatMap((one) => view.checklist.sections.find((section) => section.code === one) ?? []);
}

/** The part that is to follow a finished one: the next with something open that is not shown yet, round again at the end. */
export function followingPart(sections: readonly Section[], shown: readonly string[], open: ReadonlySet<string>): string | undefined {
  const at = sections.findIndex((one) => one.code === shown.at(-1));
  return [...sections.slice(at + 1), ...sections.slice(0, at + 1)].find((one) => open.has(one.code) && !shown.includes(one.code))?.code;
}

/** Opens the next part below when the last open item of the lowest one is answered here. A part that was finished before stays alone. */
export function useFollowing(view: VisitView, code: string): void {
  const shown = partsShown(view, code).map((one) => one.code);
  const last = shown.at(-1) ?? code;
  const open = new Set(openItems(view.checklist, view.visit, view.result).map((one) => one.part));
  const wasOpen = useRef({ visit: '', part: '', open: false });
  const here = { visit: view.visit.id, part: last, open: open.has(last) };
  useEffect(() => {
    const was = wasOpen.current;
    wasOpen.current = here;
    if (was.visit !== here.visit || was.part !== here.part || !was.open || here.open) return;
    const next = followingPart(view.checklist.sections, shown, open);
    if (next !== undefined) below.value = new Map([...below.value, [keyOf(here.visit, code), [...shown.slice(1), next]]]);
  }, [here.visit, here.part, here.open]);
  // Opened anew from elsewhere, a part stands alone again.
  useEffect(
    () => () => {
      below.value = new Map([...below.value].filter(([key]) => key !== keyOf(here.visit, code)));
    },
    [here.visit, code],
  );
}
