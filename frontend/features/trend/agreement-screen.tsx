import { useState } from 'preact/hooks';
import { Banner, dateWords, More, numberWords, Page, SelectField } from '../../ui';
import { Fetched, useFetch } from '../../ui/fetch';
import { Part, Table } from '../../ui/part';
import { siteWords } from '../../ui/sites';
import { NextLinks } from '../../ui/visit/frame';
import { personName, countWords } from '../../ui/words';
import { session } from '../../lib';
import type { ForceApart, Interval, ItemAgreement, Report, StopApart } from '../../lib/model.gen';

/** How far two therapists agree who rated the same trials, for the lead. */
export function AgreementScreen() {
  const teams = (session.value?.teams ?? []).filter((team) => team.role === 'lead');
  const [chosen, setChosen] = useState('');
  const team = chosen === '' ? teams[0]?.id : chosen;
  const back = { href: '/caseload', label: 'Caseload' };
  if (team === undefined)
    return (
      <Page title="Agreement" back={back}>
        <Banner tone="note">Agreement between raters is for the lead of a team.</Banner>
      </Page>
    );
  return (
    <Page title="Agreement" wide back={back}>
      {teams.length > 1 ? (
        <SelectField label="Team" value={team} options={teams.map((one) => ({ value: one.id, label: one.name }))} onChange={setChosen} />
      ) : null}
      <Fetching key={team} team={team} />
      <NextLinks print ways={[]} />
    </Page>
  );
}

function Fetching(props: { readonly team: string }) {
  const { got, again } = useFetch<Report>(`/api/v1/teams/${encodeURIComponent(props.team)}/agreement`);
  return (
    <Fetched got={got} again={again} what="the figures">
      {(report) => <Inside report={report} />}
    </Fetched>
  );
}

function Inside(props: { readonly report: Report }) {
  const { report } = props;
  return (
    <div class="result">
      <p>
        {countWords(report.pairs, 'trial was', 'trials were')} rated by two and signed by both
        {report.open > 0 ? `; ${countWords(report.open, 'more waits', 'more wait')} for a signature` : ''}. Figures from fewer than five
        pairs are not shown: they would say more about two people than about the checklist.
      </p>
      {report.by_app > 0 ? (
        <p>
          In {report.by_app} of them one tablet had the other rating before its own visit was signed. The app hid it. In the rest neither
          tablet had it.
        </p>
      ) : null}
      <Stops stops={report.stops} />
      <Items report={report} />
      <Forces report={report} />
      <HowTo />
    </div>
  );
}

function visitLink(of: { readonly client: string }, visit: string): string {
  return `/caseload?client=${of.client}&visit=${visit}`;
}

function Stops(props: { readonly stops: readonly StopApart[] }) {
  const { stops } = props;
  return (
    <Part title="Driving forbidden by one and not by the other">
      {stops.length === 0 ? (
        <p>None.</p>
      ) : (
        <>
          <Banner tone="caution" title="Talk about these at once">
            Until then the safer answer stands: nobody drives.
          </Banner>
          <Table
            caption="Driving forbidden by one rater only, newest first"
            captionHidden
            heads={['Trial', 'Item', 'Forbidden by', 'Not by', 'The visits']}
          >
            {stops.map((stop) => {
              const [by, notBy] = stop.by_first ? [stop.first_by, stop.second_by] : [stop.second_by, stop.first_by];
              return (
                <tr key={`${stop.second} ${stop.item}`}>
                  <td>{dateWords(stop.at)}</td>
                  <th scope="row">{stop.title}</th>
                  <td>{personName(by)}</td>
                  <td>{personName(notBy)}</td>
                  <td>
                    <a class="link-row" href={visitLink(stop, stop.first)}>
                      first
                    </a>{' '}
                    <a class="link-row" href={visitLink(stop, stop.second)}>
                      second
                    </a>
                  </td>
                </tr>
              );
            })}
          </Table>
        </>
      )}
    </Part>
  );
}

function Items(props: { readonly report: Report }) {
  const { items, together } = props.report;
  const shown = items.filter((item) => !item.few);
  const below = shown.filter((item) => !item.met);
  const few = items.length - shown.length;
  return (
    <Part title="Answers">
      <p class="quiet-line">
        What to aim for (our proposal): the same answer in 75 %, within one level in 95 %, weighted kappa (agreement beyond chance) 0.61 or
        more. Behind each figure stands its 95 % interval. Kappa is shown from 30 pairs on. Answers of one trial belong together, so the
        interval of several items is drawn from whole trials, from five trials on.
      </p>
      {together.length === 0 ? (
        <p>No answer was given by two raters yet.</p>
      ) : (
        <Cells
          caption="Items with the same number of levels together"
          head="Items"
          cells={together}
          nameOf={(cell) => `all with ${cell.levels} levels`}
        />
      )}
      {below.length > 0 ? <Cells caption="Items below an aim" head="Item" cells={below} nameOf={(cell) => cell.title} /> : null}
      {shown.length > 0 ? (
        <More summary={`Items that meet the aims: ${shown.length - below.length}`}>
          <Cells caption="Items that meet the aims" head="Item" cells={shown.filter((item) => item.met)} nameOf={(cell) => cell.title} />
        </More>
      ) : null}
      {few > 0 ? <p>{countWords(few, 'item has', 'items have')} fewer than five pairs.</p> : null}
    </Part>
  );
}

function Cells(props: {
  readonly caption: string;
  readonly head: string;
  readonly cells: readonly ItemAgreement[];
  readonly nameOf: (cell: ItemAgreement) => string;
}) {
  return (
    <Table caption={props.caption} heads={[props.head, 'Pairs', 'Same answer, %', 'Within one level, %', 'Kappa', 'Weighted kappa']}>
      {props.cells.map((cell) => (
        <tr key={`${cell.item} ${cell.levels}`}>
          <th scope="row">{props.nameOf(cell)}</th>
          <td class="num">{cell.n}</td>
          {cell.few ? (
            <td colSpan={4}>fewer than five pairs</td>
          ) : (
            <>
              <td class="num">{intervalWords(cell.same, 0)}</td>
              <td class="num">{cell.levels > 2 ? intervalWords(cell.within, 0) : '–'}</td>
              <td class="num">{intervalWords(cell.kappa, 2)}</td>
              <td>
                {intervalWords(cell.weighted, 2)}
                {cell.weighted && cell.word !== '' ? `, ${cell.word}` : ''}
              </td>
            </>
          )}
        </tr>
      ))}
    </Table>
  );
}

/** A figure and its interval, "82 (70 to 90)"; a dash where there is none. */
function intervalWords(interval: Interval | null, decimals: number): string {
  if (!interval) return '–';
  const { value, low, high } = interval;
  const bounds = low === null || high === null ? '' : ` (${numberWords(low, decimals)} to ${numberWords(high, decimals)})`;
  return numberWords(value, decimals) + bounds;
}

function Forces(props: { readonly report: Report }) {
  const { force, apart } = props.report;
  return (
    <Part title="Forces">
      {force ? (
        <p>
          {countWords(force.n, 'force was', 'forces were')} measured by both.{' '}
          {force.few ? 'Fewer than five: no figure is shown.' : force.say}
        </p>
      ) : (
        <p>No force was measured by two raters yet.</p>
      )}
      {apart.length > 0 ? (
        <More summary={`Far apart: ${apart.length}`}>
          <Table
            caption="Forces that lie far apart, newest first"
            captionHidden
            heads={['Trial', 'Where', 'Apart, %', 'What to do', 'The visits']}
          >
            {apart.map((one) => (
              <ApartRow key={`${one.second} ${one.site} ${one.direction} ${one.state}`} apart={one} />
            ))}
          </Table>
        </More>
      ) : null}
    </Part>
  );
}

function ApartRow(props: { readonly apart: ForceApart }) {
  const { apart } = props;
  return (
    <tr>
      <td>{dateWords(apart.at)}</td>
      <th scope="row">
        {siteWords(apart.site)}, {apart.direction}, {apart.state}
      </th>
      <td class="num">{numberWords(apart.percent, 0)}</td>
      <td>{apart.say}</td>
      <td>
        <a class="link-row" href={visitLink(apart, apart.first)}>
          first
        </a>{' '}
        <a class="link-row" href={visitLink(apart, apart.second)}>
          second
        </a>
      </td>
    </tr>
  );
}

function HowTo() {
  return (
    <Part title="How to rate a trial a second time">
      <ol class="steps">
        <li>Both of you see the same trial, live or on video.</li>
        <li>Open the client, choose “Start a visit”, and name the other’s visit under “Second rater of the visit of”.</li>
        <li>Answer the same items, and measure three times where the first did. Neither sees the other’s visit.</li>
        <li>Sign. Once both have signed, the pair counts here and each can read the other’s visit.</li>
      </ol>
      <p class="quiet-line">
        One in ten visits, or five in a quarter for each therapist, is enough to learn from. A proposal, not validated.
      </p>
    </Part>
  );
}
