import { useState } from 'preact/hooks';
import { AreaField, Banner, Button, Form, LevelDoor, More, SavedLine, TextField, dateWords, useSave } from '../../ui';
import { RESULT_CAUTIONS } from '../../ui/result/cautions';
import { VisitFrame, NextLinks } from '../../ui/visit/frame';
import { links } from '../../ui/visit/links';
import { amendedWords } from '../../ui/visit/amend';
import { sentenceOf } from '../../ui/words';
import { resultToSign, session, type VisitView } from '../../lib';
import { lengths, type VisitSigned } from '../../lib/model.gen';
import { isOpen, mayWrite, roleIn, writeVisit } from '../../lib/visit-writer';
import { isFresh } from '../../lib/trial/trial-draft';
import { trials } from '../../lib/trials';
import { notTested, openChoices } from './progress';

function NotTestedList(props: { readonly view: VisitView }) {
  const { view } = props;
  const sections = notTested(view.checklist, view.visit, view.result);
  const items = sections.reduce((sum, section) => sum + section.items.length, 0);
  return (
    <section aria-labelledby="not-tested">
      <h2 id="not-tested">
        Not tested <span class="count">{items}</span>
      </h2>
      {items === 0 ? (
        <p>Every item was answered or does not apply.</p>
      ) : (
        <More summary={`Show the ${items} items. They count as nothing good and are printed as not tested.`}>
          {sections.map((section) => (
            <p key={section.code}>
              <a class="link-row" href={links.part(view.visit.id, section.code)}>
                {section.title}
              </a>
              : {section.items.map((item) => item.title).join(', ')}
            </p>
          ))}
        </More>
      )}
    </section>
  );
}

function LevelNow(props: { readonly view: VisitView }) {
  const { result, provisional } = props.view;
  return (
    <section aria-labelledby="level-now">
      <h2 id="level-now">Level</h2>
      {result === null ? (
        <p>Not worked out yet.</p>
      ) : (
        <>
          <LevelDoor level={result.level} size="large" interim={result.interim} provisional={provisional} />
          <p>{sentenceOf(result.message)}</p>
          {provisional ? (
            <p class="field-hint">Worked out on this tablet. The server works it out again and must come to the same.</p>
          ) : null}
          {result.override ? <p>{sentenceOf(result.override.message)}</p> : null}
          <a class="link-row" href={links.level(props.view.visit.id)}>
            Reasons and override
          </a>
        </>
      )}
    </section>
  );
}

/** What happens next: a recheck date and a few words. It can be agreed before or after signing. */
function PlanFields(props: { readonly view: VisitView }) {
  const { visit } = props.view;
  const [recheck, setRecheck] = useState(visit.plan?.recheck ?? '');
  const [note, setNote] = useState(visit.plan?.note ?? '');
  const saver = useSave();
  const body = { ...(recheck === '' ? {} : { recheck }), ...(note.trim() === '' ? {} : { note: note.trim() }) };
  return (
    <section aria-labelledby="plan" class="stack">
      <h2 id="plan">What happens next</h2>
      <TextField label="Recheck on" type="date" value={recheck} onInput={setRecheck} />
      <AreaField label="Who does what by when" value={note} maxLength={lengths['plan-agreed'].note} onInput={setNote} />
      <div class="actions">
        <Button onPress={() => void saver.save('what happens next', () => writeVisit(visit, 'plan-agreed', body))}>
          Save what happens next
        </Button>
      </div>
      <SavedLine state={saver.state} />
    </section>
  );
}

function PlanWords(props: { readonly view: VisitView }) {
  const { plan } = props.view.visit;
  if (!plan) return null;
  return (
    <section aria-labelledby="plan">
      <h2 id="plan">What happens next</h2>
      {plan.recheck ? <p>Recheck on {dateWords(plan.recheck)}.</p> : null}
      {plan.note ? <p class="answer-fixed">{plan.note}</p> : null}
    </section>
  );
}

function Warnings(props: { readonly view: VisitView }) {
  const { visit } = props.view;
  const choices = openChoices(visit);
  const unsaved = !isFresh(trials.of(visit.id).value.draft);
  return (
    <>
      {choices > 0 ? (
        <Banner tone="caution">
          {choices === 1 ? 'One item needs' : `${choices} items need`} a choice between two answers. Signing keeps both; the more cautious
          one counts.
        </Banner>
      ) : null}
      {unsaved ? (
        <Banner tone="caution">
          A run of the driving trial is not saved. <a href={links.trial(visit.id)}>Save it or throw it away</a> first.
        </Banner>
      ) : null}
      {visit.setup ? null : (
        <Banner tone="caution">
          No control and place are chosen. <a href={links.setup(visit.id)}>Choose them</a>, or the level says little.
        </Banner>
      )}
    </>
  );
}

/** Name and credential as the account has them; the signer may change them. */
function signature(): string {
  const person = session.value?.person;
  if (person === undefined) return '';
  return person.credential === '' || person.credential.startsWith(person.name)
    ? person.credential || person.name
    : `${person.name}, ${person.credential}`;
}

function Signing(props: { readonly view: VisitView }) {
  const { view } = props;
  const [name, setName] = useState(signature);
  const [error, setError] = useState<string | undefined>(undefined);
  const saver = useSave();
  const sign = async () => {
    if (name.trim() === '') return setError('Expected your name and credential, got nothing.');
    const { result } = view;
    if (result === null || saver.busy()) return;
    setError(undefined);
    await saver.save('signed', async () => {
      const body: VisitSigned = { ...(await resultToSign(view.visit.id, result)), name: name.trim() };
      return writeVisit(view.visit, 'visit-signed', body);
    });
  };
  return (
    <Form onSave={sign} state={saver.state}>
      <h2>Sign</h2>
      <ul class="cautions">
        {RESULT_CAUTIONS.map((caution) => (
          <li key={caution}>{caution}</li>
        ))}
      </ul>
      <TextField
        label="Your name and credential, as it shall stand on paper"
        value={name}
        maxLength={lengths['visit-signed'].name}
        error={error}
        onInput={setName}
        required
      />
      {view.result === null ? <Banner tone="note">Signing waits for the result.</Banner> : null}
      <div class="actions">
        <Button type="submit" kind="main" size="big" disabled={view.result === null}>
          Sign this visit
        </Button>
      </div>
      <p class="field-hint">After signing, changes are amendments with a reason.</p>
    </Form>
  );
}

function Signed(props: { readonly view: VisitView }) {
  const { view } = props;
  const { amendments } = view.visit;
  return (
    <section aria-labelledby="amendments">
      <h2 id="amendments">Amendments</h2>
      {amendments.length === 0 ? (
        <p>None. To change something, choose “Amend” above and say why.</p>
      ) : (
        <ol class="runs">
          {amendments.map((one) => (
            <li key={one.ref}>
              {amendedWords(one, view.checklist)}: {one.reason}
            </li>
          ))}
        </ol>
      )}
    </section>
  );
}

/** Closing the visit: what is not tested, the level, the cautions, the name. */
export function SignScreen(props: { readonly id: string }) {
  return (
    <VisitFrame id={props.id} title="Sign">
      {(view) => {
        const may = mayWrite(roleIn(view.visit.team), 'visit-signed');
        return (
          <>
            <Warnings view={view} />
            <LevelNow view={view} />
            <NotTestedList view={view} />
            {may && isOpen(view.visit) ? <PlanFields view={view} /> : <PlanWords view={view} />}
            {view.visit.signed === undefined ? (
              may ? (
                <Signing view={view} />
              ) : (
                <Banner tone="note">A clinician or the lead of the team signs.</Banner>
              )
            ) : (
              <Signed view={view} />
            )}
            <NextLinks
              ways={[
                { href: links.missing(props.id), label: 'What is missing' },
                { href: links.map(props.id), label: 'Visit map' },
              ]}
            />
          </>
        );
      }}
    </VisitFrame>
  );
}
