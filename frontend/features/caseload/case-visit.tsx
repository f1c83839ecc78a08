import { Banner, dateWords, levelWord, Page, timeWords } from '../../ui';
import { classWords } from '../../ui/control-classes';
import { Fetched, useFetch } from '../../ui/fetch';
import { Facts, Part } from '../../ui/part';
import { ResultBody } from '../../ui/result/result-body';
import { keyLabel, valueWords, triedWords } from '../../ui/setting-words';
import { siteWords } from '../../ui/sites';
import { amendedWords } from '../../ui/visit/amend';
import { personName, plainWords, sentenceOf } from '../../ui/words';
import type { Definition } from '../../lib';
import type { ChecklistAnswer, Signature, VisitAnswer } from '../../lib/model.gen';
import { resultOf } from './case-client';

/** One visit with the server's result and all its reasons. */
export function CaseVisit(props: { readonly client: string; readonly id: string }) {
  const { got, again } = useFetch<VisitAnswer>(`/api/v1/visits/${encodeURIComponent(props.id)}`);
  return (
    <Page title="Visit and result" back={{ href: `/caseload?client=${props.client}`, label: 'The client' }} wide>
      <Fetched got={got} again={again} what="the visit">
        {(answer) => <Inside answer={answer} />}
      </Fetched>
    </Page>
  );
}

function Inside(props: { readonly answer: VisitAnswer }) {
  const { visit } = props.answer;
  const { got, again } = useFetch<ChecklistAnswer>(`/api/v1/checklists/${encodeURIComponent(visit.checklist.hash)}`);
  const checklist = got.kind === 'here' ? (got.value.definition as Definition) : undefined;
  const result = resultOf(props.answer);
  return (
    <div class="result level-paper">
      <SignedDifferently answer={props.answer} />
      {result ? (
        <Fetched got={got} again={again} what="the checklist">
          {(answer) => <ResultBody result={result} checklist={answer.definition as Definition} standing="confirmed" />}
        </Fetched>
      ) : (
        <Banner tone={props.answer.unscored ? 'caution' : 'note'}>{lacking(props.answer)}</Banner>
      )}
      <Part title="The visit">
        <VisitFacts answer={props.answer} />
      </Part>
      {visit.amendments.length > 0 ? <Amendments answer={props.answer} checklist={checklist} /> : null}
    </div>
  );
}

/** Why there is no result to show. */
function lacking(answer: VisitAnswer): string {
  if (answer.blind) return 'You rate this trial too. What your colleague entered is shown when both have signed.';
  if (answer.unscored)
    return 'No level could be worked out for this visit. Everything that was entered is kept and shown below. Tell your administrator.';
  return answer.scored
    ? 'This result was written by a newer version. Update the app to read it.'
    : 'The server has no result for this visit yet.';
}

/**
 * The server compares a signature with what it had then. What came in by an amendment
 * is seen by the hash, or by the level where another program computed it.
 */
function isAsSigned(signed: Signature, { visit, scored, mismatch }: VisitAnswer): boolean {
  if (mismatch || !scored) return !mismatch;
  if (visit.amendments.length === 0 || signed.result === scored.sha256) return true;
  const same = signed.format === scored.result.format && signed.engine === scored.result.engine;
  return !same && signed.level === scored.result.level;
}

/** Says so when the server's result is not the one that was signed. */
function SignedDifferently(props: { readonly answer: VisitAnswer }) {
  const { visit, scored } = props.answer;
  if (!visit.signed || !scored || isAsSigned(visit.signed, props.answer)) return null;
  return (
    <Banner tone="caution" title="Not what was signed">
      {visit.amendments.length > 0
        ? `The visit was amended after it was signed at ${levelWord(visit.signed.level)}. The result below includes the amendments.`
        : `When signing, the tablet showed ${levelWord(visit.signed.level)}. The server worked out the result below; talk with the person who signed.`}
    </Banner>
  );
}

/** How many count: what was set aside is in the record and not in the number. */
function counting(list: readonly { readonly slip?: string }[]): number {
  return list.filter((one) => !one.slip).length;
}

function VisitFacts(props: { readonly answer: VisitAnswer }) {
  const { visit } = props.answer;
  const passages = resultOf(props.answer)?.passages ?? [];
  const rows: [string, string][] = [
    ['Started', `${timeWords(visit.started.at)} by ${personName(visit.started.by)}`],
    ['Signed', visit.signed ? `${timeWords(visit.signed.at)} by ${visit.signed.name}, at ${levelWord(visit.signed.level)}` : 'not yet'],
    ['Control', visit.setup ? `${visit.setup.control ?? classWords(visit.setup.class)} at ${siteWords(visit.setup.site)}` : 'not chosen'],
    ['Recheck', visit.plan?.recheck ? dateWords(visit.plan.recheck) : 'none agreed'],
    ['What happens next', visit.plan?.note ?? 'not noted'],
    ['Readings and runs', `${counting(visit.readings)} and ${counting(visit.runs)}`],
  ];
  for (const place of visit.places ?? [])
    rows.push([place.name, sentenceOf(passages.find((one) => one.place === place.place)?.message) || 'not judged']);
  for (const one of visit.settings ?? [])
    rows.push([keyLabel(one.key), `${one.before} to ${valueWords(one.after, one.unit)}. ${triedWords(one) || 'Not said how it went.'}`]);
  for (const [field, text] of Object.entries(visit.notes)) rows.push([noteTitle(field), text]);
  if (visit.unknown > 0) rows.push(['Entries from a newer version', String(visit.unknown)]);
  return <Facts rows={rows} />;
}

function noteTitle(field: string): string {
  const words = plainWords(field);
  return words.charAt(0).toUpperCase() + words.slice(1);
}

function Amendments(props: { readonly answer: VisitAnswer; readonly checklist: Definition | undefined }) {
  return (
    <Part title="Amendments">
      <ol class="notes">
        {props.answer.visit.amendments.map((one) => (
          <li key={one.ref}>
            {timeWords(one.at)}, {personName(one.by)}: {amendedWords(one, props.checklist)}. Reason: {one.reason}
          </li>
        ))}
      </ol>
    </Part>
  );
}
