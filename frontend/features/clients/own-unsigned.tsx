import { Banner } from '../../ui/banner';
import { Part } from '../../ui/part';
import { byTablet, ConfirmUnsigned } from '../../ui/unsigned';
import { useAskedAgain } from '../../ui/ask-again';
import { countWords } from '../../ui/words';
import { api } from '../../lib';
import type { QuarantineList, QuarantineRow } from '../../lib/model.gen';

/** The first page of the person's own open entries with one that they can confirm, in any team. */
async function askUnsigned(): Promise<readonly QuarantineRow[]> {
  for (let after = '0'; ;) {
    const page = await api<QuarantineList>('GET', `/api/v1/quarantine?state=open&after=${encodeURIComponent(after)}`);
    const mine = page.entries.filter((one) => one.confirm);
    if (mine.length > 0 || !page.more || page.next === after) return mine;
    after = page.next;
  }
}

/** The person's own entries that came in a file and were not signed: they say whether they wrote them. */
export function OwnUnsigned() {
  const { said, again } = useAskedAgain(askUnsigned, true, '');
  const groups = byTablet(said ?? []);
  if (groups.length === 0) return null;
  return (
    <Part title="Did you write these?">
      <p>
        These entries came in your name from a file or a sealed copy that your tablet did not sign, so somebody else could have written
        them. They do not count until you say that they are yours. Look at each, and tick what you wrote. Leave out what you do not know,
        and tell your lead.
      </p>
      {groups.map((entries) => (
        <ConfirmUnsigned key={entries[0]?.tablet} entries={entries} action="I wrote these: count them" onConfirmed={again} />
      ))}
    </Part>
  );
}

/** Points to them from Today. */
export function UnsignedLine() {
  const count = useAskedAgain(askUnsigned, false, '').said?.length ?? 0;
  if (count === 0) return null;
  return (
    <Banner tone="caution" title="Did you write these?">
      <p>
        {countWords(count, 'entry', 'entries')} came in your name, not signed by your tablet, and {count === 1 ? 'does' : 'do'} not count
        until you say that you wrote {count === 1 ? 'it' : 'them'}.{' '}
        <a class="link-row" href="/sync">
          Look at what came in your name
        </a>
      </p>
    </Banner>
  );
}
