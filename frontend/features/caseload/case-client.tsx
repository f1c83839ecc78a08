import { useState } from 'preact/hooks';
import { ButtonLink, dateWords, LevelDoor, Page, timeWords } from '../../ui';
import { Fetched, useFetch } from '../../ui/fetch';
import { Facts, Part, Table } from '../../ui/part';
import { effectiveLevel } from '../../ui/result/level-head';
import { isStop } from '../../ui/result/words';
import { personName } from '../../ui/words';
import { clients } from '../../lib';
import { resultFormat, type Client, type ClientAnswer, type Result, type VisitAnswer } from '../../lib/model.gen';
import { Assignment } from './assignment';

/** One client as the server has it, for the lead. */
export function CaseClient(props: { readonly id: string }) {
  const { got, again } = useFetch<ClientAnswer>(`/api/v1/clients/${encodeURIComponent(props.id)}`);
  const title = got.kind === 'here' ? got.value.client.name : 'Client';
  return (
    <Page title={title} over={got.kind === 'here' ? got.value.client.ref : ''} back={{ href: '/caseload', label: 'Caseload' }}>
      <Fetched got={got} again={again} what="the client">
        {(answer) => <Inside answer={answer} />}
      </Fetched>
    </Page>
  );
}

function Inside(props: { readonly answer: ClientAnswer }) {
  const [client, setClient] = useState<Client>(props.answer.client);
  const here = clients.value.some((card) => card.id === client.id);
  const visits = [...props.answer.visits].reverse();
  return (
    <>
      <Part title="Visits">
        {visits.length === 0 ? (
          <p>No visit has arrived yet.</p>
        ) : (
          <Table caption="Visits, newest first" captionHidden heads={['Started', 'Level', 'Forbids driving', 'State', 'By', 'Recheck']}>
            {visits.map((one) => (
              <VisitRow key={one.visit.id} client={client.id} answer={one} />
            ))}
          </Table>
        )}
      </Part>
      <Part title="Responsible and status">
        <Assignment client={client} onChange={setClient} />
      </Part>
      <Part title="Details">
        <Facts
          rows={[
            ['Priority', client.priority],
            ['Course', client.course],
            ['Referred', dateWords(client.referred)],
            ['Reason for referral', client.reason === '' ? 'not written down' : client.reason],
            ['What the visitor must know', client.visiting === '' ? 'not written down' : client.visiting],
            ['Last change', `${timeWords(client.changed.at)} by ${personName(client.changed.by)}`],
          ]}
        />
        <ButtonLink href={`/clients/${client.id}`}>{here ? 'Open on this tablet' : 'Visit or change on this tablet'}</ButtonLink>
      </Part>
    </>
  );
}

/** The result, or null when there is none or it is of a later format, which can not be read here. */
export function resultOf(answer: VisitAnswer): Result | null {
  return answer.scored?.result.format === resultFormat ? answer.scored.result : null;
}

function VisitRow(props: { readonly client: string; readonly answer: VisitAnswer }) {
  const { answer } = props;
  const { visit } = answer;
  const result = resultOf(answer);
  return (
    <tr>
      <th scope="row">
        <a class="link-row" href={`/caseload?client=${props.client}&visit=${visit.id}`}>
          {timeWords(visit.started.at)}
        </a>
      </th>
      <td>
        {result ? (
          <LevelDoor level={effectiveLevel(result)} size="small" interim={result.interim} />
        ) : answer.blind ? (
          'held back'
        ) : answer.unscored ? (
          'could not be scored'
        ) : (
          'no result'
        )}
      </td>
      <td class="num">{result ? result.effects.filter((effect) => isStop(effect.effect)).length : '–'}</td>
      <td>
        {visit.signed ? `signed ${dateWords(visit.signed.at)}` : <strong>open</strong>}
        {visit.amendments.length > 0 ? `, amended ${visit.amendments.length}×` : ''}
      </td>
      <td>{personName(visit.started.by)}</td>
      <td>{visit.plan?.recheck ? dateWords(visit.plan.recheck) : 'none agreed'}</td>
    </tr>
  );
}
