import type { TabletList, TabletRow } from '../model.gen';
import { timeWords } from '../parts';
import { Table } from '../results/part';
import { countWords } from '../results/words';
import { Awaited } from './awaited';
import { useFetched } from './fetched';

/** Entries older than this that are still only on a tablet deserve a call, in milliseconds. */
const LONG = 24 * 60 * 60 * 1000;

/** The team's tablets with what they said they hold. */
export function Tablets(props: { readonly team: string }) {
  const { got, again } = useFetched<TabletList>(`/api/v1/teams/${encodeURIComponent(props.team)}/tablets`);
  return (
    <Awaited got={got} again={again} what="the tablets">
      {({ tablets }) => (
        <>
          <p>A tablet says what it holds when it has a network. One that is lost or out of reach can hold more than it said.</p>
          {tablets.length === 0 ? <p>No tablet of this team has signed in yet.</p> : (
            <Table caption="Tablets" captionHidden heads={['Person', 'Tablet', 'Last sent', 'Only on the tablet', 'Oldest of them']}>
              {sorted(tablets).map((tablet) => <Line key={tablet.id} tablet={tablet} now={Date.now()} />)}
            </Table>
          )}
        </>
      )}
    </Awaited>
  );
}

/** Tablets that hold something first, the longest-waiting at the top. */
function sorted(tablets: readonly TabletRow[]): readonly TabletRow[] {
  const key = (tablet: TabletRow) => (tablet.waiting > 0 ? `0${tablet.oldest_waiting ?? ''}` : `1${tablet.name}`);
  return [...tablets].sort((a, b) => (key(a) < key(b) ? -1 : 1));
}

function Line(props: { readonly tablet: TabletRow; readonly now: number }) {
  const { tablet } = props;
  const oldest = tablet.oldest_waiting ?? '';
  const long = tablet.waiting > 0 && props.now - Date.parse(oldest) > LONG;
  return (
    <tr>
      <th scope="row">{tablet.name}</th>
      <td>{tablet.label}</td>
      <td>{tablet.last_push === '' ? 'never' : timeWords(tablet.last_push)}</td>
      <td>{tablet.waiting > 0 ? <strong>{countWords(tablet.waiting, 'entry', 'entries')}</strong> : 'nothing'}</td>
      <td>{tablet.waiting > 0 && oldest !== '' ? timeWords(oldest) : '–'}{long ? <strong class="case-aside">more than a day: ask {tablet.name} to send</strong> : null}</td>
    </tr>
  );
}
