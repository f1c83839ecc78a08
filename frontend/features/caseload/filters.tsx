import { useEffect, useState } from 'preact/hooks';
import { Button, levelWord, More, SelectField, TextField, type Option } from '../../ui';
import { NARROW, useMedia } from '../../ui/viewport';
import { colleagues, session } from '../../lib';
import { levels, type Counts } from '../../lib/model.gen';
import type { Caseload, Pages } from './pages';
import { SORT_WORDS, SORTS, type CaseloadQuery } from './query';

interface Queue {
  readonly flag: string;
  readonly label: string;
  readonly count: (counts: Counts) => number;
}

const QUEUES: readonly Queue[] = [
  { flag: '', label: 'All', count: (counts) => counts.open },
  { flag: 'stop', label: 'No driving', count: (counts) => counts.stops },
  { flag: 'recheck', label: 'Recheck overdue', count: (counts) => counts.rechecks },
  { flag: 'choice', label: 'Needs a choice', count: (counts) => counts.choices },
  { flag: 'quarantined', label: 'Set aside', count: (counts) => counts.quarantined },
  { flag: 'tablet', label: 'Only on a tablet', count: (counts) => counts.on_tablet },
];

const STATUSES: readonly Option[] = [
  { value: 'open', label: 'All but closed' },
  { value: 'waiting', label: 'Waiting' },
  { value: 'active', label: 'Active' },
  { value: 'hold', label: 'On hold' },
  { value: 'closed', label: 'Closed' },
  { value: 'any', label: 'All' },
];

const LEVEL_OPTIONS: readonly Option[] = [
  { value: '', label: 'Every level' },
  ...levels.map((level) => ({ value: level, label: levelWord(level) })),
];

/** Time after the last key before the server is asked, in milliseconds. */
const TYPING = 200;

/** Queues, search and filters above the caseload. */
export function Filters(props: { readonly team: string; readonly pages: Pages; readonly state: Caseload }) {
  const { pages, state } = props;
  const { query, counts } = state;
  const narrow = useMedia(NARROW);
  const [search, setSearch] = useState(query.q);
  const set = (change: Partial<CaseloadQuery>) => pages.ask({ ...query, q: search, ...change });
  useEffect(() => {
    if (search === query.q) return undefined;
    const timer = setTimeout(() => pages.ask({ ...query, q: search }), TYPING);
    return () => clearTimeout(timer);
  }, [search, query, pages]);
  return (
    <div class="filters">
      <div class="queues" role="group" aria-label="Queues">
        {QUEUES.map((queue) => (
          <Button key={queue.flag} pressed={query.flag === queue.flag} onPress={() => set({ flag: queue.flag })}>
            {queue.label}
            {counts ? ` ${queue.count(counts).toLocaleString('en-GB')}` : ''}
          </Button>
        ))}
      </div>
      <div class="toolbar">
        <TextField label="Name or number" type="search" value={search} onInput={setSearch} maxLength={100} />
        {narrow ? null : <Selects team={props.team} query={query} set={set} />}
      </div>
      {narrow ? (
        <More summary="Filter and order">
          <Selects team={props.team} query={query} set={set} />
        </More>
      ) : null}
    </div>
  );
}

function Selects(props: { readonly team: string; readonly query: CaseloadQuery; readonly set: (change: Partial<CaseloadQuery>) => void }) {
  const { query, set } = props;
  return (
    <>
      <SelectField label="Level" value={query.level} options={LEVEL_OPTIONS} onChange={(level) => set({ level })} />
      <SelectField
        label="Responsible"
        value={query.assignee}
        options={peopleOptions(props.team, 'Everybody')}
        onChange={(assignee) => set({ assignee })}
      />
      <SelectField label="Status" value={query.status} options={STATUSES} onChange={(status) => set({ status })} />
      <SelectField
        label="Order"
        value={query.sort}
        options={SORTS.map((sort) => ({ value: sort, label: SORT_WORDS[sort] }))}
        onChange={(value) => set({ sort: SORTS.find((sort) => sort === value) ?? 'wait', order: 'first' })}
      />
    </>
  );
}

/** The team's people that can be responsible, with a first line for all and one for nobody. */
function peopleOptions(team: string, all: string): readonly Option[] {
  return [{ value: '', label: all }, { value: 'none', label: 'Nobody yet' }, ...teamPeople(team)];
}

/** The active people of one team by name; the reader is marked. */
export function teamPeople(team: string): readonly Option[] {
  const me = session.value?.person.id;
  return [...colleagues.value.values()]
    .filter((person) => !person.closed && person.teams.some((one) => one.id === team))
    .map((person) => ({ value: person.id, label: person.id === me ? `${person.name} (you)` : person.name }))
    .sort((a, b) => a.label.localeCompare(b.label, 'en-GB'));
}
