import { useMemo } from 'preact/hooks';
import { Banner, ButtonLink } from '../../ui';
import { Icon } from '../../ui/icon';
import { usePlace } from '../../ui/address';
import { headsOf } from '../../ui/answer';
import { itemIn } from '../../ui/result/items';
import { VisitFrame, NextLinks } from '../../ui/visit/frame';
import { links } from '../../ui/visit/links';
import type { Item, Section, VisitView } from '../../lib';
import { ItemCard } from './item-card';
import { neededIn } from './part-state';
import { nextMissing } from './next-missing';

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
      <NextLinks ways={waysOn(view, section)} />
    </>
  );
}

/** How much is needed, and the way to the next of it. Without room at the side the bottom edge holds the same. */
function Next(props: { readonly view: VisitView; readonly code: string; readonly url: string }) {
  const { view } = props;
  const section = view.checklist.sections.find((one) => one.code === props.code);
  const next = nextMissing(view, props.url);
  if (section === undefined || next === undefined) return null;
  const here = neededIn(section, view);
  return (
    <span class="next-missing">
      <span>
        {here} needed here, {view.result?.missing?.length ?? 0} missing in all
      </span>
      <ButtonLink kind="main" href={next.href}>
        Next missing: {next.what}
        <Icon name="next" />
      </ButtonLink>
    </span>
  );
}

/** All items of one part of the checklist. `?item=` names the one to start at. */
export function PartScreen(props: { readonly id: string; readonly code: string }) {
  const { query, url } = usePlace();
  const { item } = query;
  return (
    <VisitFrame
      id={props.id}
      wide
      actions={(view) => <Next view={view} code={props.code} url={url} />}
      title={(view) => view.checklist.sections.find((one) => one.code === props.code)?.title ?? 'Part of the checklist'}
      focusTitle={item === undefined}
    >
      {(view) => <Part view={view} code={props.code} item={item} />}
    </VisitFrame>
  );
}
