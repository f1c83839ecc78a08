import { useEffect, useState } from 'preact/hooks';
import { Banner } from '..';
import { Table } from '../part';
import { reasonOf } from '../saved';
import { plainWords, sentenceOf } from '../words';
import { thresholds } from '../../lib';
import type { Threshold } from '../../lib/model.gen';

type Loaded = { readonly rows: readonly Threshold[] } | { readonly error: string } | null;

/** Every limit that the engine compares with, where it comes from and how sure it is. */
export function Thresholds() {
  const [loaded, setLoaded] = useState<Loaded>(null);
  useEffect(() => {
    let here = true;
    thresholds().then(
      (rows) => here && setLoaded({ rows }),
      (error: unknown) => here && setLoaded({ error: reasonOf(error) }),
    );
    return () => {
      here = false;
    };
  }, []);
  if (!loaded) return <p role="status">Reading the limits…</p>;
  if ('error' in loaded) return <Banner tone="note">{loaded.error}</Banner>;
  return (
    <Table caption="Limits with source and status" captionHidden heads={['Limit', 'Value', 'Source', 'Status']}>
      {loaded.rows.map((row) => (
        <tr key={row.id}>
          <th scope="row">{plainWords(row.id)}</th>
          <td class="num">
            {row.value} {sentenceOf(row.unit)}
          </td>
          <td>{sentenceOf(row.source) || 'none'}</td>
          <td>{sentenceOf(row.status)}</td>
        </tr>
      ))}
    </Table>
  );
}
