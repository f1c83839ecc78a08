import { useEffect } from 'preact/hooks';
import { dateWords, LevelDoor } from '../../ui';
import { NARROW, PHONE, useMedia, useSlice } from '../../ui/viewport';
import { personName, countWords } from '../../ui/words';
import type { Row } from '../../lib/model.gen';
import type { Caseload, Pages } from './pages';
import { sortedBy, type Sort } from './query';

interface Column {
  readonly label: string;
  readonly sort: Sort | null;
}

const COLUMNS: readonly Column[] = [
  { label: 'Client', sort: 'name' },
  { label: 'Level', sort: 'level' },
  { label: 'Forbids driving', sort: 'stops' },
  { label: 'Last visit', sort: 'visit' },
  { label: 'Waiting', sort: 'wait' },
  { label: 'Recheck', sort: 'recheck' },
  { label: 'Responsible', sort: null },
  { label: 'Watch', sort: null },
];

/** The caseload as a table, or as cards where it is narrow; only the rows near the window are in the page. */
export function CaseTable(props: { readonly pages: Pages; readonly state: Caseload }) {
  const { pages, state } = props;
  const narrow = useMedia(NARROW);
  const phone = useMedia(PHONE);
  const rowRem = !narrow ? 5 : phone ? 13.5 : 11;
  const { box, slice } = useSlice<HTMLTableSectionElement>(state.total, rowRem);
  useEffect(() => pages.want(slice.first, slice.last - 1), [pages, slice, state.rows]);
  const places = Array.from({ length: Math.max(0, slice.last - slice.first) }, (_, i) => slice.first + i);
  return (
    <table class="case-table" role="table" aria-label="Clients of the team" aria-rowcount={state.total + 1} aria-busy={state.loading}>
      <thead role="rowgroup">
        <tr role="row" aria-rowindex={1}>
          {COLUMNS.map((column) => (
            <Head key={column.label} column={column} pages={pages} state={state} />
          ))}
        </tr>
      </thead>
      <tbody role="rowgroup" ref={box}>
        <Gap rows={slice.first} rowRem={rowRem} />
        {places.map((place) => (
          <CaseRow key={place} place={place} row={state.rows.get(place)} rowRem={rowRem} />
        ))}
        <Gap rows={state.total - slice.last} rowRem={rowRem} />
      </tbody>
    </table>
  );
}

/** The height of rows that are not in the page. */
function Gap(props: { readonly rows: number; readonly rowRem: number }) {
  return props.rows > 0 ? <tr aria-hidden="true" class="case-gap" style={{ height: `${props.rows * props.rowRem}rem` }} /> : null;
}

function Head(props: { readonly column: Column; readonly pages: Pages; readonly state: Caseload }) {
  const { label, sort } = props.column;
  const { query } = props.state;
  if (!sort)
    return (
      <th role="columnheader" scope="col">
        {label}
      </th>
    );
  const current = query.sort === sort;
  const turned = query.order === 'last';
  return (
    <th role="columnheader" scope="col" aria-sort={current ? (turned ? 'descending' : 'ascending') : undefined}>
      <button type="button" class="sort" onClick={() => props.pages.ask(sortedBy(query, sort))}>
        {label}
        <span aria-hidden="true" class="sort-mark">
          {current ? (turned ? '▲' : '▼') : ''}
        </span>
      </button>
    </th>
  );
}

function CaseRow(props: { readonly place: number; readonly row: Row | undefined; readonly rowRem: number }) {
  const { place, row, rowRem } = props;
  const style = { height: `${rowRem}rem` };
  if (!row) {
    return (
      <tr role="row" aria-rowindex={place + 2} class="case-row" style={style}>
        <td role="cell" colSpan={COLUMNS.length}>
          …
        </td>
      </tr>
    );
  }
  return (
    <tr role="row" aria-rowindex={place + 2} class="case-row" style={style}>
      <th role="rowheader" scope="row">
        <a class="case-name" href={`/caseload?client=${row.client}`}>
          {row.name}
        </a>
        <span class="client-ref">{row.ref}</span>
      </th>
      <td role="cell" data-label="Level">
        {row.effective === '' ? 'no level yet' : <LevelDoor level={row.effective} size="small" interim={row.interim} />}
      </td>
      <td role="cell" data-label="Forbids driving" class="num">
        {row.open_stops > 0 ? <strong class="tag tag-strong">{row.open_stops}</strong> : 'none'}
      </td>
      <td role="cell" data-label="Last visit">
        {row.last_visit === '' ? 'never' : dateWords(row.last_visit)}
        {row.last_visit !== '' && !row.signed ? <span class="case-aside">not signed</span> : null}
      </td>
      <td role="cell" data-label="Waiting">
        {row.status === 'closed' ? 'closed' : countWords(row.waiting_days, 'day')}
        {row.priority === 'routine' ? null : <span class="case-aside">{row.priority}</span>}
      </td>
      <td role="cell" data-label="Recheck">
        {row.recheck === '' ? 'none agreed' : dateWords(row.recheck)}
        {row.recheck_overdue_days > 0 ? <strong class="case-aside">{countWords(row.recheck_overdue_days, 'day')} over</strong> : null}
        {row.recheck_forecast ? <span class="case-aside">by the forecast</span> : null}
      </td>
      <td role="cell" data-label="Responsible">
        <span class="case-clip">{personName(row.assignee)}</span>
      </td>
      <td role="cell" data-label="Watch">
        <Watch row={row} />
      </td>
    </tr>
  );
}

/** How long the reserve may last against the wait: “about 9 weeks left, wait 14”; said only where it is short or the wait is not known. */
export function weeksLeft(row: Pick<Row, 'weeks_left' | 'weeks_to_come'>): string {
  const { weeks_left: left, weeks_to_come: wait } = row;
  if (left === undefined || (wait !== undefined && left > wait)) return '';
  const words = left === 0 ? 'no weeks left' : `about ${countWords(left, 'week')} left`;
  return wait === undefined ? words : `${words}, wait ${wait}`;
}

/** What the lead should look at besides the level; always words. */
function Watch(props: { readonly row: Row }) {
  const { row } = props;
  const tags = [
    weeksLeft(row),
    row.unscored > 0 ? 'could not be scored' : '',
    row.on_tablet ? 'only on a tablet' : '',
    row.needs_choice > 0 ? countWords(row.needs_choice, 'choice') : '',
    row.quarantined > 0 ? `${row.quarantined} set aside` : '',
    row.limits > 0 ? countWords(row.limits, 'limit') : '',
  ].filter((tag) => tag !== '');
  return tags.length === 0 ? (
    <span>–</span>
  ) : (
    <span class="case-clip">
      {tags.map((tag) => (
        <span key={tag} class="case-aside">
          {tag}
        </span>
      ))}
    </span>
  );
}
