import type { ComponentChildren } from 'preact';
import { useMemo, useState } from 'preact/hooks';
import { Banner } from '../../ui/banner';
import { ButtonLink } from '../../ui/button';
import { Segments } from '../../ui/choice';
import { CheckField, TextField } from '../../ui/field';
import { display } from '../../ui/display';
import { LevelDoor } from '../../ui/level-door';
import { Page } from '../../ui/page';
import { SyncBadge } from '../../ui/sync-badge';
import { NARROW, PHONE, useMedia } from '../../ui/viewport';
import { VirtualList } from '../../ui/virtual-list';
import { countWords } from '../../ui/words';
import { clients, downloads, session, syncState, unread, type ClientCard, type SyncState } from '../../lib';
import { dateOf, daysBetween } from '../../lib/dates';
import { UnsignedLine } from './own-unsigned';
import { SetAsideLines } from './set-aside-line';
import { onlyHere, openVisitOf, orderClients, searchClients } from './find';

type Show = 'open' | 'mine' | 'here';

const SHOWS: readonly { readonly value: Show; readonly label: string }[] = [
  { value: 'open', label: 'All' },
  { value: 'mine', label: 'Mine' },
  { value: 'here', label: 'Not sent yet' },
];

function shown(cards: readonly ClientCard[], show: Show, me: string): readonly ClientCard[] {
  if (show === 'mine') return cards.filter((card) => card.assignee === me);
  return show === 'here' ? cards.filter(onlyHere) : cards;
}

/** What came in is on the tablet and is still being read, or cannot be read now. */
function Unread() {
  const { count, why } = unread.value;
  if (why === '') return <p role="status">Reading what came in: {count.toLocaleString('en-GB')} to go…</p>;
  return (
    <Banner tone="caution" title="Some of what is on this tablet cannot be shown now">
      Nothing is lost: {count.toLocaleString('en-GB')} clients, visits and controls wait to be read. It is tried again by itself; with a
      network, reloading helps. ({why})
    </Banner>
  );
}

/** The team's clients on this tablet; works without a network. `download` says what is not on it. */
export function Today(props: { readonly download: ComponentChildren }) {
  const [search, setSearch] = useState('');
  const [show, setShow] = useState<Show>('open');
  const [hidden, setHidden] = useState(false);
  const narrow = useMedia(NARROW);
  const phone = useMedia(PHONE);
  const large = !['100', '125'].includes(display.value.text);
  const all = clients.value;
  const teams = [...downloads.value.values()];
  const me = session.value?.person.id ?? '';
  const ordered = useMemo(() => orderClients(all), [all]);
  const list = useMemo(() => shown(searchClients(ordered, search), show, me), [ordered, search, show, me]);
  const mayOpen = session.value?.teams.some((team) => team.role !== 'assistant') ?? false;
  return (
    <Page
      title="Today"
      wide
      beside={
        mayOpen ? (
          <ButtonLink kind="main" href="/clients/new">
            New client
          </ButtonLink>
        ) : null
      }
    >
      <SyncLine />
      <UnsignedLine />
      <SetAsideLines />
      {teams.every((one) => one.choice === 'on' && one.complete) ? null : props.download}
      <div class="toolbar">
        <TextField label="Search by name or number" type="search" value={search} onInput={setSearch} />
        <Segments
          legend="Show"
          value={show}
          options={SHOWS}
          onChange={(value) => setShow(SHOWS.find((one) => one.value === value)?.value ?? 'open')}
        />
        <CheckField label="Hide names" checked={hidden} onChange={setHidden} />
      </div>
      <p class="quiet-line" role="status">
        {all.length === 0 && unread.value.count > 0 ? 'No client can be shown yet' : countWords(list.length, 'client')}
        {list.length === all.length ? '' : ` of ${all.length.toLocaleString('en-GB')}`}
      </p>
      {unread.value.count > 0 && (all.length === 0 || unread.value.why !== '') ? <Unread /> : null}
      {all.length === 0 && unread.value.count === 0 && teams.every((one) => one.choice === 'on') ? (
        <p>No client of your teams is on this tablet yet. They arrive with the first send and fetch.</p>
      ) : null}
      <VirtualList
        label="Clients"
        items={list}
        keyOf={(card) => card.id}
        rowRem={!narrow ? 4.5 : large ? 7.5 : phone ? 6.25 : 5.5}
        row={(card) => <ClientRow card={card} hidden={hidden} />}
      />
    </Page>
  );
}

/** Whether there is a network, what waits, and what needs a choice. */
function SyncLine() {
  const sync = syncState.value;
  const refused = sync.refused.length;
  if (sync.waiting === 0 && sync.needsChoice === 0 && refused === 0) {
    if (!sync.asked) return <p class="quiet-line">Asking the server what is new…</p>;
    return (
      <p class="quiet-line">
        {sync.online ? 'Everything on this tablet has been sent.' : 'No network. Everything works; nothing waits to be sent.'}
      </p>
    );
  }
  return (
    <Banner tone={refused > 0 || sync.needsChoice > 0 ? 'caution' : 'note'} line title={bannerTitle(sync)}>
      <p>
        {sync.waiting > 0 ? `${countWords(sync.waiting, 'entry', 'entries')} only on this tablet. ` : ''}
        {sync.needsChoice > 0 ? `${countWords(sync.needsChoice, 'visit needs', 'visits need')} your choice. ` : ''}
        {refused > 0 ? `${countWords(refused, 'entry was', 'entries were')} set aside by the server. ` : ''}
        <a class="link-row" href="/sync">
          This tablet
        </a>
      </p>
    </Banner>
  );
}

function bannerTitle(sync: SyncState): string {
  if (!sync.asked) return 'Asking the server';
  if (!sync.online) return 'No network';
  return sync.waiting > 0 ? 'To send' : 'Waits for you';
}

function ClientRow(props: { readonly card: ClientCard; readonly hidden: boolean }) {
  const { card, hidden } = props;
  const open = openVisitOf(card);
  const last = card.visits.find((visit) => !visit.blind && visit.secondOf === '');
  // That all was sent the head says for all.
  const sync = open?.sync ?? card.sync;
  const days = daysBetween(card.referred, dateOf(new Date()));
  return (
    <a class="client-row" href={`/clients/${card.id}`}>
      <span class="client-who">
        <strong class="client-name">{hidden ? 'Name hidden' : card.name}</strong>
        <span class="client-ref">{card.ref}</span>
      </span>
      <span class="client-level">
        {last && last.level !== '' ? (
          <LevelDoor level={last.level} size="small" interim={last.interim} provisional={last.provisional} />
        ) : (
          'No level yet'
        )}
      </span>
      <span class="client-facts">
        {card.priority === 'urgent' ? <strong class="tag tag-strong">urgent</strong> : <span class="tag">{card.priority}</span>}
        {card.status === 'closed' ? (
          <span class="tag">closed</span>
        ) : (
          <span class="tag">
            {countWords(days, 'day')}
            <span class="client-since"> since referral</span>
          </span>
        )}
        {open ? <strong class="tag tag-strong">open visit</strong> : null}
        {sync === 'sent' ? null : <SyncBadge state={sync} />}
      </span>
    </a>
  );
}
