import { useId, useMemo } from 'preact/hooks';
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
import { FindItem } from './find-item';
import { ItemCard } from './item-card';
import { isOffering, offerOf, useVisitBefore } from './last-visit';
import { nextOpen, openItems } from './next';
import { MeasuredTogether } from './measured-together';
import { PartHead } from './part-head';
import { standingOf } from './progress';
import { nextMissing } from './next-missing';
import { newestOf, undoSteps } from './undo';
import { partsShown, useFollowing } from './unfolded';

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
    [visit.chair, visit.places, visit.mount?.clear_s, visit.needs, visit.setup?.site, visit.readings.length, visit.plan?.recheck],
  ]);
  return useMemo(
    () => <ItemCard item={item} view={view} focused={focused} last={last} offering={offering} />,
    [item, focused, checklist, on],
  );
}

/** One part: what can be done for all of it, and its items. */
function OnePart(props: {
  readonly view: VisitView;
  readonly section: Section;
  readonly last: VisitView | null;
  readonly item: string | undefined;
  /** What the help levels mean stands once, with the first part that has them. */
  readonly legend: boolean;
}) {
  const { view, section, last } = props;
  const ceilings = useCeilings(view.visit);
  const strip = useId();
  const offering = isOffering(view.visit.id, section.code);
  const offers = new Map(section.items.map((item) => [item.id, last === null ? undefined : offerOf(item, view.checklist, last.visit)]));
  const open = section.items.filter((item) => offers.get(item.id) && standingOf(item, view.visit, view.result) === 'not-tested');
  const cards = (list: readonly Item[]) =>
    list.map((item) => (
      <CardOf key={item.id} item={item} view={view} focused={item.id === props.item} last={offers.get(item.id)} offering={offering} />
    ));
  const computed = section.items.filter((item) => item.from !== undefined);
  return (
    <>
      <PartHead view={view} section={section} last={last} ceilings={ceilings} offers={open.length} legend={props.legend} />
      <GivenTogether view={view} section={section} />
      <MeasuredTogether view={view} section={section} />
      <div class="cards">{cards(section.items.filter((item) => item.from === undefined))}</div>
      {computed.length > 0 ? (
        <section class="computed-strip" aria-labelledby={strip}>
          <h2 id={strip}>Worked out from what was measured</h2>
          <div class="computed-cards">{cards(computed)}</div>
        </section>
      ) : null}
    </>
  );
}

/** The part of the address, and below it those that follow as each is finished. */
function Parts(props: { readonly view: VisitView; readonly code: string; readonly item: string | undefined }) {
  const { view, code } = props;
  const last = useVisitBefore(view.visit);
  useFollowing(view, code);
  const shown = partsShown(view, code);
  const [first, ...below] = shown;
  if (first === undefined) {
    return <Banner tone="caution">This visit’s checklist has no part “{code}”.</Banner>;
  }
  const withHelp = shown.find((section) => section.items.some((item) => item.type === 'help'));
  const part = (section: Section) => (
    <OnePart view={view} section={section} last={last} item={props.item} legend={section.code === withHelp?.code} />
  );
  return (
    <div class="checklist">
      {part(first)}
      {below.map((section) => (
        <section key={section.code} class="part-below" aria-labelledby={`below-${section.code}`}>
          <h2 id={`below-${section.code}`}>{section.title}</h2>
          {part(section)}
        </section>
      ))}
      <p class="unseen" role="status">
        {below.length === 0 ? '' : `The part before is finished. Below: ${below.at(-1)?.title ?? ''}`}
      </p>
      <NextLinks ways={waysOn(view, below.at(-1) ?? first)} />
    </div>
  );
}

/** How much is open, and the way to the next of it. Without room at the side the bottom edge holds the same. */
function Next(props: { readonly view: VisitView; readonly code: string; readonly url: string }) {
  const { view, code } = props;
  const open = openItems(view.checklist, view.visit, view.result);
  const last = newestOf(undoSteps.value, view.visit.id)?.item ?? '';
  const shown = partsShown(view, code).map((one) => one.code);
  const item = nextOpen(view.checklist, open, shown.at(-1) ?? code, last);
  const within = item !== undefined && shown.includes(item.part);
  const next = item
    ? { href: links.item(view.visit.id, within ? code : item.part, item.item.id), what: item.item.title }
    : nextMissing(view, props.url);
  if (next === undefined) return null;
  return (
    <span class="next-missing">
      <span>
        {open.filter((one) => shown.includes(one.part)).length} open here, {open.length} in all
      </span>
      <Button
        kind="main"
        // Within a part the way back leads out of it, not from item to item.
        onPress={() => goTo(next.href, within)}
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
      beside={(view) => <FindItem view={view} />}
      actions={(view) => <Next view={view} code={props.code} url={url} />}
      title={(view) => view.checklist.sections.find((one) => one.code === props.code)?.title ?? 'Part of the checklist'}
      focusTitle={item === undefined}
    >
      {(view) => <Parts key={props.code} view={view} code={props.code} item={item} />}
    </VisitFrame>
  );
}
