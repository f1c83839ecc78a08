import { Button, Dialog, SavedLine, timeWords, useSave } from '.';
import { api, session } from '../lib';
import type { TabletList, TabletRow } from '../lib/model.gen';
import { useDraft } from './draft';
import { Fetched, useFetch } from './fetch';
import { Table } from './part';
import { countWords } from './words';

/** Entries older than this that are still only on a tablet deserve a call, in milliseconds. */
const LONG = 24 * 60 * 60 * 1000;

/** The tablets of a team or of a person, by the address of either, with what they said they hold. */
export function Tablets(props: { readonly of: string }) {
  const { got, again } = useFetch<TabletList>(`/api/v1/${props.of}/tablets`);
  const { value: asked, set: setAsked } = useDraft({ about: props.of, name: 'withdraw tablet' }, '');
  return (
    <Fetched got={got} again={again} what="the tablets">
      {({ tablets }) => (
        <>
          <p>A tablet says what it holds when it has a network. One that is lost or out of reach can hold more than it said.</p>
          {tablets.length === 0 ? (
            <p>No tablet has signed in here yet.</p>
          ) : (
            <Table
              caption="Tablets"
              captionHidden
              heads={['Person', 'Tablet', 'Last heard of', 'Only on the tablet', 'Oldest of them', 'State']}
            >
              {sorted(tablets).map((tablet) => (
                <Line key={tablet.id} tablet={tablet} now={Date.now()} onAsk={({ id }) => setAsked(id)} />
              ))}
            </Table>
          )}
          {tablets
            .filter(({ id, revoked }) => id === asked && !revoked)
            .map((tablet) => (
              <Withdraw key={tablet.id} tablet={tablet} onClose={() => setAsked('')} onDone={again} />
            ))}
        </>
      )}
    </Fetched>
  );
}

/** Tablets that hold something first, the longest-waiting at the top. */
function sorted(tablets: readonly TabletRow[]): readonly TabletRow[] {
  const key = (tablet: TabletRow) => (tablet.waiting > 0 ? `0${tablet.oldest_waiting ?? ''}` : `1${tablet.name}`);
  return [...tablets].sort((a, b) => (key(a) < key(b) ? -1 : 1));
}

function Line(props: { readonly tablet: TabletRow; readonly now: number; readonly onAsk: (tablet: TabletRow) => void }) {
  const { tablet } = props;
  const oldest = tablet.oldest_waiting ?? '';
  const heard = tablet.seen ?? tablet.last_push;
  const long = tablet.waiting > 0 && props.now - Date.parse(oldest) > LONG;
  return (
    <tr>
      <th scope="row">{tablet.name}</th>
      <td>{tablet.label}</td>
      <td>{heard === '' ? 'nothing sent yet' : timeWords(heard)}</td>
      <td>{tablet.waiting > 0 ? <strong>{countWords(tablet.waiting, 'entry', 'entries')}</strong> : 'nothing'}</td>
      <td>
        {tablet.waiting > 0 && oldest !== '' ? timeWords(oldest) : '–'}
        {long ? <strong class="case-aside">more than a day: ask {tablet.name} to send</strong> : null}
      </td>
      <td>
        {tablet.id === session.value?.tablet ? (
          'this one'
        ) : tablet.cleared ? (
          'withdrawn, clear'
        ) : tablet.revoked ? (
          `withdrawn ${timeWords(tablet.revoked)}`
        ) : (
          <Button label={`Withdraw the tablet of ${tablet.name}`} onPress={() => props.onAsk(tablet)}>
            Withdraw
          </Button>
        )}
      </td>
    </tr>
  );
}

/** Asks before a tablet is shut out for good, and says what will happen to what is on it. */
function Withdraw(props: { readonly tablet: TabletRow; readonly onClose: () => void; readonly onDone: () => void }) {
  const saver = useSave();
  const withdraw = async () => {
    if (!(await saver.save('Withdrawn', () => api('POST', `/api/v1/tablets/${props.tablet.id}/revoke`)))) return;
    props.onClose();
    props.onDone();
  };
  return (
    <Dialog
      title={`Withdraw the tablet of ${props.tablet.name}?`}
      open
      onClose={props.onClose}
      actions={
        <Button kind="main" onPress={() => void withdraw()}>
          Withdraw this tablet
        </Button>
      }
    >
      <p>
        When it next has a network it locks, sends what it still holds, and clears itself. Until then what is on it stays there, encrypted.
        This cannot be undone.
      </p>
      <SavedLine state={saver.state} />
    </Dialog>
  );
}
