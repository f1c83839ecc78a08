import { useMemo } from 'preact/hooks';
import { Banner, Button } from '../../ui';
import { Icon } from '../../ui/icon';
import { goTo, usePlace } from '../../ui/address';
import { headsOf } from '../../ui/answer';
import { itemIn } from '../../ui/result/items';
import { VisitFrame, NextLinks } from '../../ui/visit/frame';
import { links } from '../../ui/visit/links';
import type { Item, Section, VisitView } from '../../lib';
import type { AnswerGiven } from '../../lib/model.gen';
import { GivenTogether } from './all-fine';
import { useCeilings } from './ceilings';
import { ItemCard } from './item-card';
import { isOffering, offerOf, useVisitBefore } from './last-visit';
import { nextOpen, openItems } from './next';
import { PartHead } from './part-head';
import { standingOf } from './progress';
import { nextMissing } from './next-missing';
import { newestOf, undoSteps } from './undo';

function waysOn(view: VisitView, section: Section) {
  const all = view.checklist.sections;
  const at = all.findIndex((one) => one.code === section.code);
  const near = [all[at - 1], all[at + 1]].flatMap((one) => (one ? [{ href: links.part(view.visit.id, one.code), label: one.title }] : []));
  return [...near, { href: links.map(view.visit.id), label: 'Visit map' }];
}

interface CardOfProps {
  readonly item: Item;
  readonly view: VisitView;
  readonly focused: boolean;
  readonly last: AnswerGiven | undefined;
  readonly offering: boolean;
}

/**
 * A card is drawn anew when something on it has changed, not with every answer
 * of the visit: a slow tablet says "saved" sooner.
 */
function CardOf(props: CardOfProps) {
  const { item, view, focused, last, offering } = props;
  const { visit, result, checklist, engineError } = view;
  const on = JSON.stringify([
    headsOf(visit, item.id),
    itemIn(result, item.id),
    result?.effects.filter((effect) => effect.item === item.id),
    engineError,
    visit.signed,
    last,
    offering,
    // What is measured and asked elsewhere is shown beside the item.
    [visit.chair, visit.places, visit.mount?.clear_s, visit.needs, visit.setup?.site, visit.readings.length],
  ]);
  return useMemo(
    () => <ItemCard item={item} view={view} focused={focused} last={last} offering={offering} />,
    [item, focused, checklist, on],
  );
}

function Part(props: { readonly view: VisitView; readonly code: string; readonly item: string | undefined }) {
  const { view } = props;
  const ceilings = useCeilings(view.visit);
  const last = useVisitBefore(view.visit);
  const section = view.checklist.sections.find((one) => one.code === props.code);
  if (section === undefined) {
    return <Banner tone="caution">This visit’s checklist has no part “{props.code}”.</Banner>;
  }
  const offering = isOffering(view.visit.id, section.code);
  const offers = new Map(section.items.map((item) => [item.id, last === null ? undefined : offerOf(item, view.checklist, last.visit)]));
  const open = section.items.filter((item) => offers.get(item.id) && standingOf(item, view.visit, view.result) === 'not-tested');
  const cards = (list: readonly Item[]) =>
    list.map((item) => (
      <CardOf key={item.id} item={item} view={view} focused={item.id === props.item} last={offers.get(item.id)} offering={offering} />
    ));
  const computed = section.items.filter((item) => item.from !== undefined);
  return (
    <div class="checklist">
      <PartHead view={view} section={section} last={last} ceilings={ceilings} offers={open.length} />
      <GivenTogether view={view} section={section} />
      <div class="cards">{cards(section.items.filter((item) => item.from === undefined))}</div>
      {computed.length > 0 ? (
        <section class="computed-strip" aria-labelledby="computed-strip">
          <h2 id="computed-strip">Worked out from what was measured</h2>
          <div class="computed-cards">{cards(computed)}</div>
        </section>
      ) : null}
      <NextLinks ways={waysOn(view, section)} />
    </div>
  );
}

/** How much is open, and the way to the next of it. Without room at the side the bottom edge holds the same. */
function Next(props: { readonly view: VisitView; readonly code: string; readonly url: string }) {
  const { view, code } = props;
  const open = openItems(view.checklist, view.visit, view.result);
  const last = newestOf(undoSteps.value, view.visit.id)?.item ?? '';
  const item = nextOpen(view.checklist, open, code, last);
  const next = item ? { href: links.item(view.visit.id, item.part, item.item.id), what: item.item.title } : nextMissing(view, props.url);
  if (next === undefined) return null;
  return (
    <span class="next-missing">
      <span>
        {open.filter((one) => one.part === code).length} open here, {open.length} in all
      </span>
      <Button
        kind="main"
        // Within a part the way back leads out of it, not from item to item.
        onPress={() => goTo(next.href, item?.part === code)}
      >
        Next missing: {next.what}
        <Icon name="next" />
      </Button>
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
