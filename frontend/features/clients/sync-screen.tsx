import { useEffect } from 'preact/hooks';
import { Button, Page, SyncBadge, timeWords } from '../../ui';
import { EntryAbout } from '../../ui/entry-about';
import { ExportOutbox } from '../../ui/outbox-file';
import { Facts, Part, Table } from '../../ui/part';
import { StateBanner } from '../../ui/tablet-state/state-lines';
import { lookAgain, statesNow } from '../../ui/tablet-state/state-now';
import { links } from '../../ui/visit/links';
import { personName, countWords, kindWords } from '../../ui/words';
import { clients, syncNow, syncState, type ClientCard, type Refused, type VisitCard } from '../../lib';
import { Choices } from './choices';
import { OwnUnsigned } from './own-unsigned';
import { whatToDo } from './refused';
import { DevicePart } from './remove-download';

/** What is only here, what is on its way, what the server has, and what needs a choice. */
export function SyncScreen() {
  const sync = syncState.value;
  const visits = clients.value.flatMap((card) => card.visits.map((visit) => ({ card, visit })));
  return (
    <Page
      title="This tablet"
      back={{ href: '/', label: 'Today' }}
      actions={
        <Button kind="main" size="big" disabled={sync.running} onPress={() => void syncNow()}>
          {sync.running ? 'Sending…' : 'Send and fetch now'}
        </Button>
      }
    >
      <States />
      <Part title="Sending">
        <Facts
          rows={[
            ['Last sent', sync.lastSent === '' ? 'never from this tablet' : timeWords(sync.lastSent)],
            ['Only on this tablet', countWords(sync.waiting, 'entry', 'entries')],
            ['Oldest of them', sync.oldestWaiting === '' ? 'none' : timeWords(sync.oldestWaiting)],
          ]}
        />
      </Part>
      <Part title="Needs your choice">
        <Choices visits={visits.filter((one) => one.visit.needsChoice > 0)} />
      </Part>
      <OwnUnsigned />
      {sync.refused.length > 0 ? <RefusedPart refused={sync.refused} /> : null}
      {sync.dealtWith.length > 0 ? <DealtWithPart list={sync.dealtWith} /> : null}
      {sync.waiting > 0 ? (
        <Part title="If this tablet cannot send">
          <ExportOutbox />
        </Part>
      ) : null}
      <DevicePart />
      <Part title="Visits">
        <VisitStates visits={visits} />
      </Part>
    </Page>
  );
}

/** Everything that is not as it should be, the most serious first. */
function States() {
  useEffect(lookAgain, []);
  const all = statesNow.value;
  return (
    <Part title="What needs a look">
      {all.length === 0 ? <p>Nothing: all is as it should be.</p> : all.map((state) => <StateBanner key={state.id} state={state} />)}
    </Part>
  );
}

interface CardVisit {
  readonly card: ClientCard;
  readonly visit: VisitCard;
}

const ORDER = ['choice', 'here', 'waiting', 'sent'];
const SHOWN = 200;

/** Each visit with its state, those that need something first. */
function VisitStates(props: { readonly visits: readonly CardVisit[] }) {
  if (props.visits.length === 0) return <p>No visit is on this tablet.</p>;
  const sorted = [...props.visits].sort(
    (a, b) => ORDER.indexOf(a.visit.sync) - ORDER.indexOf(b.visit.sync) || (a.visit.startedAt < b.visit.startedAt ? 1 : -1),
  );
  return (
    <>
      <Table caption="Visits and where they are" captionHidden heads={['Client', 'Visit of', 'Where it is']}>
        {sorted.slice(0, SHOWN).map(({ card, visit }) => (
          <tr key={visit.id}>
            <th scope="row">{card.name}</th>
            <td>
              <a class="link-row" href={links.map(visit.id)}>
                {timeWords(visit.startedAt)}
              </a>
            </td>
            <td>
              <SyncBadge state={visit.sync} />
            </td>
          </tr>
        ))}
      </Table>
      {sorted.length > SHOWN ? <p class="quiet-line">And {countWords(sorted.length - SHOWN, 'older visit')}, all of them sent.</p> : null}
    </>
  );
}

function RefusedPart(props: { readonly refused: readonly Refused[] }) {
  return (
    <Part title="Set aside by the server">
      <ul class="plain-list">
        {props.refused.map((one) => (
          <li key={one.ref} class="refused">
            <p>
              <strong>{kindWords(one.kind)}</strong>, written {timeWords(one.at)}: {one.hint}
            </p>
            <EntryAbout subject={one.subject} item={one.item} />
            <p>What to do: {whatToDo(one.code)}</p>
          </li>
        ))}
      </ul>
    </Part>
  );
}

function DealtWithPart(props: { readonly list: readonly Refused[] }) {
  return (
    <Part title="Dealt with">
      <p>
        These were set aside and have been dealt with since. They still do not count, unless it says that they were taken in or confirmed.
      </p>
      <ul class="plain-list">
        {props.list.map((one) => (
          <li key={one.ref} class="refused">
            <p>
              <strong>{kindWords(one.kind)}</strong>, written {timeWords(one.at)}: {one.hint}
            </p>
            <EntryAbout subject={one.subject} item={one.item} />
            {one.settled ? (
              <p>
                {timeWords(one.settled.at)}
                {one.settled.by === '' ? '' : `, by ${personName(one.settled.by)}`}: {one.settled.note}
              </p>
            ) : null}
          </li>
        ))}
      </ul>
    </Part>
  );
}
