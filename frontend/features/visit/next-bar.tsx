import { Button, ButtonLink } from '../../ui';
import { goTo } from '../../ui/address';
import { links } from '../../ui/visit/links';
import type { Section, VisitView } from '../../lib';
import { isOpen } from '../../lib/visit-writer';
import { nextOpen, openItems } from './next';
import { newestOf, undoSteps } from './undo';
import { UndoBar } from './undo-bar';

/** At the bottom edge: take back the last answer, what is still open, and the way to the next open item. */
export function NextBar(props: { readonly view: VisitView; readonly section: Section }) {
  const { view, section } = props;
  if (!isOpen(view.visit)) return null;
  const open = openItems(view.checklist, view.visit, view.result);
  const here = open.filter((one) => one.part === section.code).length;
  const last = newestOf(undoSteps.value, view.visit.id)?.item ?? '';
  const next = nextOpen(view.checklist, open, section.code, last);
  return (
    <div class="next-bar">
      <UndoBar view={view} />
      <span class="next-count" role="status">
        {open.length === 0 ? 'Nothing is open' : `${here} open here, ${open.length} in all`}
      </span>
      {next ? (
        <Button
          kind="main"
          size="big"
          class="next-missing"
          // Within a part the way back leads out of it, not from item to item.
          onPress={() => goTo(links.item(view.visit.id, next.part, next.item.id), next.part === section.code)}
        >
          Next missing: {next.item.title}
        </Button>
      ) : (
        <ButtonLink kind="main" size="big" class="next-missing" href={links.missing(view.visit.id)}>
          What else is missing
        </ButtonLink>
      )}
    </div>
  );
}
