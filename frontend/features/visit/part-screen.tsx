import { useMemo } from 'preact/hooks';
import { Banner } from '../../ui';
import { usePlace } from '../../ui/address';
import { headsOf } from '../../ui/answer';
import { itemIn } from '../../ui/result/items';
import { VisitFrame, NextLinks } from '../../ui/visit/frame';
import { links } from '../../ui/visit/links';
import type { Item, Section, VisitView } from '../../lib';
import { ItemCard } from './item-card';
import { UndoBar } from './undo-bar';

function waysOn(view: VisitView, section: Section) {
  const all = view.checklist.sections;
  const at = all.findIndex((one) => one.code === section.code);
  const near = [all[at - 1], all[at + 1]].flatMap((one) => (one ? [{ href: links.part(view.visit.id, one.code), label: one.title }] : []));
  return [...near, { href: links.map(view.visit.id), label: 'Visit map' }];
}

/**
 * A card is drawn anew when something on it has changed, not with every answer
 * of the visit: a slow tablet says "saved" sooner.
 */
function CardOf(props: { readonly item: Item; readonly view: VisitView; readonly focused: boolean }) {
  const { item, view, focused } = props;
  const { visit, result, checklist, engineError } = view;
  const on = JSON.stringify([
    headsOf(visit, item.id),
    itemIn(result, item.id),
    result?.effects.filter((effect) => effect.item === item.id),
    engineError,
    visit.signed,
  ]);
  return useMemo(() => <ItemCard item={item} view={view} focused={focused} />, [item, focused, checklist, on]);
}

function Part(props: { readonly view: VisitView; readonly code: string; readonly item: string | undefined }) {
  const { view } = props;
  const section = view.checklist.sections.find((one) => one.code === props.code);
  if (section === undefined) {
    return <Banner tone="caution">This visit’s checklist has no part “{props.code}”.</Banner>;
  }
  return (
    <>
      <div class="cards">
        {section.items.map((item) => (
          <CardOf key={item.id} item={item} view={view} focused={item.id === props.item} />
        ))}
      </div>
      <UndoBar view={view} />
      <NextLinks ways={waysOn(view, section)} />
    </>
  );
}

/** All items of one part of the checklist. `?item=` names the one to start at. */
export function PartScreen(props: { readonly id: string; readonly code: string }) {
  const item = usePlace().query.item;
  return (
    <VisitFrame
      id={props.id}
      title={(view) => view.checklist.sections.find((one) => one.code === props.code)?.title ?? 'Part of the checklist'}
      focusTitle={item === undefined}
    >
      {(view) => <Part view={view} code={props.code} item={item} />}
    </VisitFrame>
  );
}
