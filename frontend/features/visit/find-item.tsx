import { useEffect, useRef, useState } from 'preact/hooks';
import { Button, Dialog } from '../../ui';
import { Icon } from '../../ui/icon';
import { Input } from '../../ui/inputs';
import { goTo } from '../../ui/address';
import { links } from '../../ui/visit/links';
import type { VisitView } from '../../lib';
import { findItems } from './next';
import { standingOf, type Standing } from './progress';

const standingWords: Readonly<Record<Standing, string>> = {
  'not-tested': 'not tested',
  answered: 'answered',
  'not-applicable': 'does not apply',
  choice: 'needs your choice',
};

/** Any item of the checklist in two taps: this, and its line. Typing only makes the list shorter. */
export function FindItem(props: { readonly view: VisitView }) {
  const { view } = props;
  const [open, setOpen] = useState(false);
  const [typed, setTyped] = useState('');
  const box = useRef<HTMLLabelElement>(null);
  useEffect(() => {
    if (open) box.current?.querySelector('input')?.focus();
  }, [open]);
  const titles = new Map(view.checklist.sections.map((section) => [section.code, section.title]));
  const found = open ? findItems(view.checklist, typed) : [];
  const go = (part: string, item: string) => {
    setOpen(false);
    setTyped('');
    goTo(links.item(view.visit.id, part, item));
  };
  return (
    <>
      <Button onPress={() => setOpen(true)}>
        <Icon name="find" />
        Find
      </Button>
      <Dialog title="Find a question" open={open} onClose={() => setOpen(false)}>
        <label class="find-label" ref={box}>
          <span class="field-label">A word of it</span>
          <Input class="input" type="search" maxLength={60} value={typed} onInput={(event) => setTyped(event.currentTarget.value)} />
        </label>
        <p class="unseen" role="status">
          {found.length} found
        </p>
        <ul class="find-list">
          {found.map(({ part, item }) => (
            <li key={item.id}>
              <button type="button" class="find-row" onClick={() => go(part, item.id)}>
                <strong>{item.title}</strong>
                <span>
                  {titles.get(part)}, {standingWords[standingOf(item, view.visit, view.result)]}
                </span>
              </button>
            </li>
          ))}
        </ul>
      </Dialog>
    </>
  );
}
