import { useMemo } from 'preact/hooks';
import { Banner, ButtonLink, dateWords, EffectMark, LevelDoor, Page, SyncBadge, timeWords } from '../../ui';
import { COURSE_WORDS } from '../../ui/needs';
import { Facts, Part, Table } from '../../ui/part';
import { isStop } from '../../ui/result/words';
import { NotHere } from '../../ui/team-download';
import { links } from '../../ui/visit/links';
import { personName, countWords, sentenceOf } from '../../ui/words';
import { openClient, openVisit, type ClientView, type VisitCard } from '../../lib';
import { dateOf, daysBetween } from '../../lib/dates';
import { mayWrite, roleIn } from '../../lib/visit-writer';
import { EditClient } from './edit-client';

/** One client: where they stand, what was found last, and every visit. */
export function ClientScreen(props: { readonly id: string }) {
  const { id } = props;
  const view = useMemo(() => openClient(id), [id]).value;
  const back = { href: '/', label: 'Today' };
  if (!view)
    return (
      <Page title="Client" back={back}>
        <NotHere />
      </Page>
    );
  return <Overview view={view} />;
}

function Overview(props: { readonly view: ClientView }) {
  const { client, visits, sync } = props.view;
  const today = dateOf(new Date());
  const seen = visits.filter((visit) => !visit.blind);
  const open = seen.find((visit) => visit.signedAt === '');
  const mayStart = mayWrite(roleIn(client.team), 'visit-started');
  return (
    <Page
      title={client.name}
      wide
      back={{ href: '/', label: 'Today' }}
      over={client.name}
      beside={
        <p class="client-standing">
          {client.ref} <SyncBadge state={sync} />
        </p>
      }
      actions={
        <>
          {open ? (
            <ButtonLink kind="main" href={links.map(open.id)}>
              Go on with the open visit
            </ButtonLink>
          ) : null}
          {mayStart ? (
            <ButtonLink kind={open ? 'plain' : 'main'} href={links.start(client.id)}>
              Start a visit
            </ButtonLink>
          ) : null}
        </>
      }
    >
      <Standing visits={seen} blind={seen.length < visits.length} today={today} />
      <Part title="Visits">
        {visits.length > 0 ? (
          <p>
            <a class="link-row" href={links.overTime(client.id)}>
              Over time: levels, scores, weeks left, strain
            </a>
          </p>
        ) : null}
        <Visits visits={visits} />
      </Part>
      <Part title="Details">
        <Facts
          rows={[
            ['Priority', client.priority],
            ['Course', courseWords(client.course)],
            ['Referred', `${dateWords(client.referred)}, ${countWords(daysBetween(client.referred, today), 'day')} ago`],
            ['Born', client.born === '' ? 'not written down' : dateWords(client.born)],
            ['Responsible', personName(client.assignee)],
            ['Status', client.status],
            ['Reason for referral', client.reason === '' ? 'not written down' : client.reason],
            ['What the visitor must know', client.visiting === '' ? 'not written down' : client.visiting],
            ['Last change', `${timeWords(client.changed.at)} by ${personName(client.changed.by)}`],
          ]}
        />
        {mayStart ? <EditClient client={client} today={today} /> : null}
      </Part>
    </Page>
  );
}

function courseWords(course: string): string {
  return Object.entries(COURSE_WORDS).find(([id]) => id === course)?.[1] ?? course;
}

/** The level of the last visit that has one, its open STOPs and the recheck. */
function Standing(props: { readonly visits: readonly VisitCard[]; readonly blind: boolean; readonly today: string }) {
  // A second rating is of a trial that the first visit stands for.
  const last = props.visits.find((visit) => visit.level !== '' && visit.secondOf === '');
  if (!last && props.blind)
    return (
      <Banner tone="note" title="Blind">
        You rate the same trial: the level is shown once both of you have signed.
      </Banner>
    );
  if (!last) return <Banner tone="note">No level yet: it appears with the first answers of a visit.</Banner>;
  return (
    <Part title="Where it stands">
      <div class="level-head">
        <LevelDoor level={last.level} interim={last.interim} provisional={last.provisional} />
        <div class="level-says">
          <p>
            From the visit of {dateWords(last.startedAt)}.{' '}
            <a class="link-row" href={links.level(last.id)}>
              Level and reasons
            </a>
          </p>
          <OpenStops visit={last.id} />
          <p>
            <Recheck date={last.recheck} today={props.today} />
          </p>
        </div>
      </div>
    </Part>
  );
}

function OpenStops(props: { readonly visit: string }) {
  const result = useMemo(() => openVisit(props.visit), [props.visit]).value?.result;
  const stops = result?.effects.filter((effect) => isStop(effect.effect)) ?? [];
  if (!result) return null;
  if (stops.length === 0) return <p>Nothing found so far forbids driving.</p>;
  return (
    <ul class="plain-list">
      {stops.map((stop) => (
        <li key={`${stop.effect} ${stop.item}`}>
          <EffectMark effect={stop.effect} /> {sentenceOf(stop.message)}
        </li>
      ))}
    </ul>
  );
}

function Recheck(props: { readonly date: string; readonly today: string }) {
  if (props.date === '') return <>No recheck date is agreed.</>;
  if (props.date < props.today)
    return (
      <strong>
        Recheck overdue by {countWords(daysBetween(props.date, props.today), 'day')} ({dateWords(props.date)}).
      </strong>
    );
  return <>Recheck due {dateWords(props.date)}.</>;
}

function Visits(props: { readonly visits: readonly VisitCard[] }) {
  if (props.visits.length === 0) return <p>No visit yet.</p>;
  return (
    <Table caption="Visits, newest first" captionHidden heads={['Started', 'Level', 'State', 'By', 'Answered', 'Sent']}>
      {props.visits.map((visit) => (
        <tr key={visit.id}>
          <th scope="row">
            <a class="link-row" href={links.map(visit.id)}>
              {dateWords(visit.startedAt)}
            </a>
          </th>
          <td>
            {visit.blind ? (
              'blind until both have signed'
            ) : visit.level === '' ? (
              'none yet'
            ) : (
              <a class="link-door" href={links.level(visit.id)}>
                <LevelDoor level={visit.level} size="small" interim={visit.interim} provisional={visit.provisional} />
              </a>
            )}
          </td>
          <td>
            {visit.signedAt === '' ? <strong>open</strong> : `signed ${dateWords(visit.signedAt)}`}
            {visit.secondOf === '' ? '' : ', second rating'}
          </td>
          <td>{personName(visit.startedBy)}</td>
          <td class="num">{visit.answered}</td>
          <td>
            <SyncBadge state={visit.sync} />
          </td>
        </tr>
      ))}
    </Table>
  );
}
