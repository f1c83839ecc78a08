import { useEffect, useState } from 'preact/hooks';
import { Button } from '../../ui';
import { Part } from '../../ui/part';
import { byTablet, ConfirmUnsigned } from '../../ui/unsigned';
import { useFetch } from '../../ui/fetch';
import type { QuarantineList } from '../../lib/model.gen';

/**
 * The person's own entries that came in a file and were not signed: they say
 * whether they wrote them. Without a network there is nothing to ask, and nothing
 * is shown.
 */
export function OwnUnsigned() {
  const [after, setAfter] = useState('0');
  const { got, again } = useFetch<QuarantineList>(`/api/v1/quarantine?state=open&after=${after}`);
  const page = got.kind === 'here' ? got.value : undefined;
  const groups = byTablet(page?.entries ?? []);
  const more = page?.more === true && page.next !== after ? page.next : '';
  // A page may hold nothing but what is set aside for other reasons.
  const skips = groups.length === 0 && more !== '';
  useEffect(() => {
    if (skips) setAfter(more);
  }, [skips, more]);
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
      {more === '' ? null : <Button onPress={() => setAfter(more)}>Show those that came later</Button>}
    </Part>
  );
}
