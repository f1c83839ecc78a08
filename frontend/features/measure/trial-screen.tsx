import { useEffect, useState } from 'preact/hooks';
import {
  Banner,
  Button,
  Dialog,
  Field,
  SavedLine,
  Segments,
  Stopwatch,
  Tally,
  TextField,
  clockWords,
  readNumber,
  useDraft,
  useSave,
} from '../../ui';
import { Input, PlainForm } from '../../ui/inputs';
import { figureWords, unitWords, valueWords } from '../../ui/result/figures';
import { VisitFrame } from '../../ui/visit/frame';
import { ControlInUse } from '../../ui/visit/in-use';
import { sentenceOf } from '../../ui/words';
import type { VisitView } from '../../lib';
import { lengths, ranges, type Visit } from '../../lib/model.gen';
import { isOpen, writeVisit } from '../../lib/visit-writer';
import { addGap, elapsedOf, startClock, stopClock, type Clock } from '../../lib/trial/clock';
import { steadyNow } from '../../lib/trial/moment';
import {
  afterSaving,
  alreadySaved,
  addToTally,
  isBegun,
  nextTrial,
  toRun,
  type TallyName,
  type TrialDraft,
} from '../../lib/trial/trial-draft';
import { trials } from '../../lib/trials';
import { feel } from '../../ui/feedback';
import { RunList } from './run-list';
import { useRunFigures } from './use-engine';

const limits = ranges['run-timed'];

const pads: readonly { readonly name: TallyName; readonly label: string; readonly hint: string }[] = [
  { name: 'things', label: 'Thing touched', hint: 'wall, door, table' },
  { name: 'people', label: 'Person touched', hint: 'with chair or foot' },
  { name: 'prompts', label: 'Prompt', hint: 'spoken or shown' },
  { name: 'rescues', label: 'Take-over', hint: 'or the stop was used' },
];

const smallPads: readonly { readonly name: TallyName; readonly label: string }[] = [
  { name: 'unmeant', label: 'Command not meant' },
  { name: 'presses', label: 'Switch press not meant' },
];

function Tallies(props: { readonly visit: string; readonly draft: TrialDraft }) {
  const add = (name: TallyName, step: 1 | -1) => {
    trials.change(props.visit, (draft) => addToTally(draft, name, step));
    feel();
  };
  return (
    <>
      <div class="tallies">
        {pads.map((pad) => (
          <Tally
            key={pad.name}
            label={pad.label}
            hint={pad.hint}
            count={props.draft.counts[pad.name]}
            onAdd={() => add(pad.name, 1)}
            onRemove={() => add(pad.name, -1)}
          />
        ))}
      </div>
      <div class="tallies tallies-small">
        {smallPads.map((pad) => (
          <Tally
            key={pad.name}
            size="normal"
            label={pad.label}
            count={props.draft.counts[pad.name]}
            onAdd={() => add(pad.name, 1)}
            onRemove={() => add(pad.name, -1)}
          />
        ))}
      </div>
    </>
  );
}

function Conditions(props: { readonly visit: string; readonly draft: TrialDraft }) {
  const change = (part: Partial<TrialDraft>) => trials.change(props.visit, (draft) => ({ ...draft, ...part }));
  const { draft } = props;
  return (
    <div class="trial-conditions">
      <Segments
        big
        legend="Where"
        value={draft.place}
        options={[
          { value: 'indoors', label: 'Indoors' },
          { value: 'outdoors', label: 'Outdoors' },
          { value: 'rough', label: 'Rough ground' },
        ]}
        onChange={(value) => change({ place: value === 'outdoors' || value === 'rough' ? value : 'indoors' })}
      />
      <Segments
        big
        legend="The person is"
        value={draft.state}
        options={[
          { value: 'rested', label: 'Rested' },
          { value: 'tired', label: 'Tired' },
        ]}
        onChange={(value) => change({ state: value === 'tired' ? 'tired' : 'rested' })}
      />
      <TextField
        label="Route, in a few words"
        value={draft.route}
        maxLength={lengths['run-timed'].route}
        onInput={(route) => change({ route })}
      />
    </div>
  );
}

function Clockwork(props: { readonly visit: string; readonly draft: TrialDraft }) {
  const set = (how: (clock: Clock) => Clock) => trials.change(props.visit, (draft) => ({ ...draft, clock: how(draft.clock) }));
  const running = props.draft.clock.since !== null;
  const shift = (minutes: number) => set((clock) => ({ ...clock, carried: Math.max(0, clock.carried + minutes * 60_000) }));
  return (
    <div class="clockwork">
      <Stopwatch
        label="Time of this run"
        elapsed={() => Math.max(0, elapsedOf(trials.of(props.visit).value.draft.clock, steadyNow()))}
        running={running}
        onStart={() => set((clock) => startClock(clock, steadyNow()))}
        onStop={() => set((clock) => stopClock(clock, steadyNow()))}
      />
      <div class="actions">
        <Button size="big" onPress={() => shift(-1)}>
          − 1 min
        </Button>
        <Button size="big" onPress={() => shift(1)}>
          + 1 min
        </Button>
      </div>
    </div>
  );
}

/** The figures of the run as it stands, worked out by the engine as it will count. */
function Figures(props: { readonly draft: TrialDraft; readonly metres: number | null }) {
  const [now, setNow] = useState(() => steadyNow());
  useEffect(() => {
    const timer = setInterval(() => setNow(steadyNow()), 1000);
    return () => clearInterval(timer);
  }, []);
  const figures = useRunFigures(toRun(props.draft, Math.max(now, props.draft.clock.seen), props.metres ?? 0));
  return (
    <dl class="figures">
      {figures.map((figure) => (
        <div key={figure.name}>
          <dt>
            {figureWords(figure.name)} {unitWords(figure.unit)}
          </dt>
          <dd class={figure.value === undefined ? 'figure-open' : undefined}>
            {figure.value === undefined ? sentenceOf(figure.message) : valueWords(figure)}
          </dd>
        </div>
      ))}
    </dl>
  );
}

/** Why a run cannot be saved yet, or its metres. */
function readMetres(text: string): { readonly metres: number } | { readonly error: string } {
  const read = readNumber(text, 1);
  if (read.kind === 'wrong') return { error: read.message };
  if (read.kind === 'blank') return { error: 'Expected the metres driven. 0 means not measured; there is then no figure per 50 m.' };
  if (read.value > limits.metres.high) return { error: `Expected 0 to ${limits.metres.high} m, got ${read.value}.` };
  return { metres: read.value };
}

/** Time in which nobody watched a running clock; null where nobody can tell how much. */
function UnwatchedGap(props: { readonly visit: string; readonly gap: number | null }) {
  const { visit, gap } = props;
  if (gap === null)
    return (
      <Banner tone="caution" title="The clock stood" live>
        <p>
          The app was closed while the clock ran, and this tablet’s clock was set back since, so how long is not known. All counts are kept.
          Add the minutes that were driven with “+ 1 min”.
        </p>
        <Button size="big" kind="main" onPress={() => trials.settle(visit)}>
          I have read this
        </Button>
      </Banner>
    );
  return (
    <Banner tone="caution" title="The clock stood" live>
      <p>
        For {clockWords(gap)} by this tablet’s clock the app was closed or the tablet slept, or its clock was set on, while the clock of the
        run went. All counts are kept. Was the person driving all that time?
      </p>
      <div class="actions">
        <Button
          size="big"
          onPress={() => {
            trials.change(visit, (draft) => ({ ...draft, clock: addGap(draft.clock, gap) }));
            trials.settle(visit);
          }}
        >
          Yes, add {clockWords(gap)}
        </Button>
        <Button size="big" kind="main" onPress={() => trials.settle(visit)}>
          No, leave it out
        </Button>
      </div>
    </Banner>
  );
}

/** Saves the run that is being driven, and says why when it cannot be. */
function useSaveRun(visit: Visit) {
  const saver = useSave();
  const [error, setError] = useState<string | undefined>(undefined);
  const save = async () => {
    if (saver.busy()) return;
    const { draft } = trials.of(visit.id).value;
    const read = readMetres(draft.metres);
    if ('error' in read) return setError(read.error);
    const now = steadyNow();
    const spent = elapsedOf(draft.clock, now);
    if (spent < 1000) return setError('The clock has not run. Start it, or add the minutes with “+ 1 min”.');
    if (spent > 1000 * limits.seconds.high) return setError('Expected a run of at most 4 hours. Take off the time that was not driven.');
    setError(undefined);
    const run = toRun(draft, now, read.metres);
    trials.change(visit.id, (one) => ({ ...one, clock: stopClock(one.clock, now) }));
    const done = await saver.save(`run of ${clockWords(run.seconds * 1000)}, ${run.metres} m`, () => writeVisit(visit, 'run-timed', run));
    if (done) trials.change(visit.id, (one) => afterSaving(one, run));
  };
  return { save, error, clearError: () => setError(undefined), state: saver.state };
}

function MetresField(props: {
  readonly visit: string;
  readonly metres: string;
  readonly error: string | undefined;
  readonly onTyped: () => void;
}) {
  return (
    <Field label="Metres driven" hint="0 means not measured. Enter saves the run." error={props.error}>
      {(ids) => (
        <span class="number-row">
          <Input
            id={ids.id}
            class="input input-number input-big"
            type="text"
            inputMode="decimal"
            maxLength={8}
            value={props.metres}
            aria-describedby={ids.describedBy}
            aria-invalid={ids.invalid}
            onInput={(event) => {
              const typed = event.currentTarget.value;
              props.onTyped();
              trials.change(props.visit, (one) => ({ ...one, metres: typed }));
            }}
          />
          <span class="unit">m</span>
        </span>
      )}
    </Field>
  );
}

/** Throws the run away that is not saved, after asking. */
function ThrowAway(props: { readonly visit: string; readonly fresh: boolean }) {
  const { value: asking, set: setAsking } = useDraft({ about: props.visit, name: 'throw run away' }, false);
  return (
    <>
      <Button size="big" disabled={props.fresh} onPress={() => setAsking(true)}>
        Throw this run away…
      </Button>
      <Dialog
        title="Throw this run away?"
        open={asking}
        onClose={() => setAsking(false)}
        actions={
          <Button
            kind="main"
            size="big"
            onPress={() => {
              setAsking(false);
              trials.change(props.visit, nextTrial);
            }}
          >
            Throw away
          </Button>
        }
      >
        <p>Clock and counts of the run that is not saved go back to 0. Saved runs stay.</p>
      </Dialog>
    </>
  );
}

function Trial(props: { readonly view: VisitView }) {
  const visit = props.view.visit;
  const { draft, unwatched } = trials.of(visit.id).value;
  const { save, error, clearError, state } = useSaveRun(visit);
  const metres = readNumber(draft.metres, 1);
  useEffect(() => {
    if (alreadySaved(trials.of(visit.id).value.draft, visit.runs)) trials.change(visit.id, nextTrial);
  }, [visit.id]);
  return (
    <div class="trial">
      {unwatched !== 0 ? <UnwatchedGap visit={visit.id} gap={unwatched} /> : null}
      {trials.kept(visit.id) ? null : (
        <Banner tone="caution" live>
          This browser does not keep the running counts. Save the run before you leave this page.
        </Banner>
      )}
      <Clockwork visit={visit.id} draft={draft} />
      <Tallies visit={visit.id} draft={draft} />
      <div class="trial-metres">
        <PlainForm class="stack" onSubmit={() => void save()}>
          <MetresField visit={visit.id} metres={draft.metres} error={error} onTyped={clearError} />
        </PlainForm>
        <Figures draft={draft} metres={metres.kind === 'number' ? metres.value : null} />
      </div>
      <Conditions visit={visit.id} draft={draft} />
      <ControlInUse visit={visit} />
      <div class="actions">
        <Button kind="main" size="big" onPress={() => void save()}>
          Save this run
        </Button>
        <ThrowAway visit={visit.id} fresh={!isBegun(draft)} />
      </div>
      <SavedLine state={state} />
      <RunList visit={visit} />
    </div>
  );
}

/** The driving trial: one run at a time, counted by touch. */
export function TrialScreen(props: { readonly id: string }) {
  return (
    <VisitFrame id={props.id} title="Driving trial" wide>
      {(view) =>
        isOpen(view.visit) || isBegun(trials.of(props.id).value.draft) ? (
          <Trial view={view} />
        ) : (
          <>
            <Banner tone="note">This visit is signed. Choose “Amend” above to add a run.</Banner>
            <RunList visit={view.visit} />
          </>
        )
      }
    </VisitFrame>
  );
}
