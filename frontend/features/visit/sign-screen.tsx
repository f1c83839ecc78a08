import { useState } from 'preact/hooks';
import { AreaField, AtOnceForm, Banner, Button, Dialog, Form, LevelDoor, More, TextField, dateWords, useDraft, useSave } from '../../ui';
import { RESULT_CAUTIONS } from '../../ui/result/cautions';
import { tellNothing } from '../../ui/toast';
import { VisitFrame, NextLinks } from '../../ui/visit/frame';
import { UnfinishedList, unfinishedOf } from '../../ui/visit/unfinished';
import { links, missingLink } from '../../ui/visit/links';
import { WhichCounts } from '../../ui/visit/which-counts';
import { amendedWords } from '../../ui/visit/amend';
import { sentenceOf } from '../../ui/words';
import { resultToSign, session, type VisitView } from '../../lib';
import { lengths, type Missing, type Result, type VisitSigned } from '../../lib/model.gen';
import { isOpen, mayWrite, roleIn, writeVisit } from '../../lib/visit-writer';
import { notTested, openChoices } from './progress';
import { BookedLine, RecheckField, usePlan } from './recheck';

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
        <p>Every question was answered or does not apply.</p>
      ) : (
        <More summary={`Show the ${items} questions. They do not count as good, and are printed as not tested.`}>
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
            Reasons, or another decision
          </a>
        </>
      )}
    </section>
  );
}

/** What happens next: a recheck date and a few words. It can be agreed before or after signing. */
function PlanFields(props: { readonly view: VisitView }) {
  const { draft, once } = usePlan(props.view);
  const { recheck, note } = draft.value;
  return (
    <section aria-labelledby="plan" class="stack">
      <h2 id="plan">What happens next</h2>
      <AtOnceForm form={once} draft={draft}>
        <RecheckField view={props.view} value={recheck} onChange={(to) => draft.set((now) => ({ ...now, recheck: to }))} />
        <AreaField
          label="Who does what by when"
          value={note}
          maxLength={lengths['plan-agreed'].note}
          onInput={(to) => draft.set((now) => ({ ...now, note: to }))}
        />
      </AtOnceForm>
      <BookedLine view={props.view} />
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
  const begun = unfinishedOf(visit.id, links.sign(visit.id));
  return (
    <>
      {choices > 0 ? (
        <Banner tone="caution">
          {choices === 1 ? 'One question needs' : `${choices} questions need`} a choice between two answers. Signing keeps both; the more
          cautious one counts.
        </Banner>
      ) : null}
      {begun.length > 0 && visit.signed === undefined ? (
        <Banner tone="caution" title="Begun and not saved">
          <p>Save each of these or throw it away before you sign.</p>
          <UnfinishedList list={begun} within={links.sign(visit.id)} />
        </Banner>
      ) : null}
      <WhichCounts view={props.view} />
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

/** What nobody should sign over without being asked: all but what only makes the picture fuller. */
function openToSign(result: Result): readonly Missing[] {
  return (result.missing ?? []).filter((one) => one.group !== 'useful');
}

const MOST_NAMED = 12;

/** Names what stays open, and asks whether to sign all the same. */
function SignOpen(props: { readonly view: VisitView; readonly open: boolean; readonly onClose: () => void; readonly onSign: () => void }) {
  const { view } = props;
  const open = view.result === null ? [] : openToSign(view.result);
  return (
    <Dialog
      title="Sign with this open?"
      open={props.open}
      onClose={props.onClose}
      actions={
        <Button kind="main" size="big" onPress={props.onSign}>
          Sign all the same
        </Button>
      }
    >
      <p>It stays open in the record and on paper, and does not count as good:</p>
      <ul>
        {open.slice(0, MOST_NAMED).map((one) => (
          <li key={`${one.item ?? ''} ${sentenceOf(one.message)}`}>
            <a href={missingLink(view.visit.id, view.checklist, one)}>{sentenceOf(one.message)}</a>
          </li>
        ))}
      </ul>
      {open.length > MOST_NAMED ? (
        <p>
          And {open.length - MOST_NAMED} more: <a href={links.missing(view.visit.id)}>what is missing</a>.
        </p>
      ) : null}
    </Dialog>
  );
}

function Signing(props: { readonly view: VisitView }) {
  const { view } = props;
  const draft = useDraft({ about: view.visit.id, name: 'signature', title: 'Your name for signing' }, signature());
  const { value: name, set: setName } = draft;
  const begun = unfinishedOf(view.visit.id, links.sign(view.visit.id)).length;
  const [held, setHeld] = useState(false);
  const [error, setError] = useState<string | undefined>(undefined);
  const saver = useSave();
  const asking = useDraft({ about: view.visit.id, name: 'sign what is open' }, false);
  const setAsking = asking.set;
  const sign = async (asked = false) => {
    if (name.trim() === '') return setError('Expected your name and credential, got nothing.');
    const { result } = view;
    if (result === null || saver.busy()) return;
    setError(undefined);
    // What runs or is half typed would be hidden behind the signature.
    const open = unfinishedOf(view.visit.id, links.sign(view.visit.id)).length > 0;
    setHeld(open);
    if (open) return setAsking(false);
    if (!asked && openToSign(result).length > 0) return setAsking(true);
    setAsking(false);
    const signed = await saver.save('signed', async () => {
      const body: VisitSigned = { ...(await resultToSign(view.visit.id, result)), name: name.trim() };
      return writeVisit(view.visit, 'visit-signed', body);
    });
    if (!signed) return;
    draft.drop();
    // Signed, an answer is amended and not taken back.
    tellNothing();
  };
  return (
    <Form onSave={() => sign()} state={saver.state}>
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
      {held && begun > 0 ? (
        <Banner tone="caution" title="Not signed" live>
          {begun === 1 ? 'Something was' : `${begun} things were`} begun and not saved: see the top of this screen.
        </Banner>
      ) : null}
      {view.result === null ? <Banner tone="note">Signing waits for the result.</Banner> : null}
      <div class="actions">
        <Button type="submit" kind="main" size="big" disabled={view.result === null}>
          Sign this visit
        </Button>
      </div>
      <p class="field-hint">After signing, changes are amendments with a reason.</p>
      <SignOpen view={view} open={asking.value} onClose={() => setAsking(false)} onSign={() => void sign(true)} />
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
                ...(view.visit.signed === undefined ? [] : [{ href: links.level(props.id), label: 'Level, to print' }]),
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
