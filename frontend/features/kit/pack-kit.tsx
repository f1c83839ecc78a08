import { Banner, Button, SavedLine, useSave } from '../../ui';
import { links } from '../../ui/visit/links';
import { countWords } from '../../ui/words';
import { kit } from '../../lib';
import type { PackedControl, Visit } from '../../lib/model.gen';
import { packKit } from '../../lib/records/pack-kit';
import { isOpen, mayWrite, roleIn, writeVisit } from '../../lib/visit-writer';

/** Takes the team's kit into the visit, so that its verdicts stay as they are when the kit changes. */
export function PackKit(props: { readonly visit: Visit }) {
  const { visit } = props;
  const saver = useSave();
  const { controls: now } = packKit(kit.value, visit.team);
  const was = visit.kit ?? [];
  const may = isOpen(visit) && mayWrite(roleIn(visit.team), 'kit-packed');
  const same = isAsPacked(now, was);
  const pack = () => saver.save('kit of this visit', () => writeVisit(visit, 'kit-packed', { controls: now }));
  return (
    <>
      <p>
        {was.length === 0
          ? 'No control of the kit is packed for this visit; only kinds in general are judged.'
          : `${countWords(was.length, 'control')} of the kit ${was.length === 1 ? 'is' : 'are'} packed for this visit.`}
      </p>
      <a class="link-row" href={links.kit}>
        The team’s kit
      </a>
      {may && !same ? (
        <Banner tone="note" title={was.length === 0 ? 'Pack the kit' : 'The kit has changed since'}>
          <p>
            {now.length === 0 ? 'The team’s kit is empty now.' : `The team’s kit has ${countWords(now.length, 'control')} now.`} Verdicts of
            this visit use what is packed.
          </p>
          <div class="actions">
            <Button onPress={() => void pack()}>{was.length === 0 ? 'Pack the kit for this visit' : 'Pack the kit as it is now'}</Button>
          </div>
        </Banner>
      ) : null}
      <SavedLine state={saver.state} />
    </>
  );
}

function plain(control: PackedControl): string {
  return JSON.stringify(Object.entries(control).sort(([a], [b]) => (a < b ? -1 : 1)));
}

/** Whether the visit has the kit as it is now. */
export function isAsPacked(now: readonly PackedControl[], was: readonly PackedControl[]): boolean {
  const sorted = (list: readonly PackedControl[]) => list.map(plain).sort().join('\n');
  return sorted(now) === sorted(was);
}
