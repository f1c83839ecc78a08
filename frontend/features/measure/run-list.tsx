import { Button, SavedLine, clockWords, numberWords, timeWords, useDraft, useSave, type Saver } from '../../ui';
import { session } from '../../lib';
import type { Run, RunMarked, Visit } from '../../lib/model.gen';
import { isOpen, mayWrite, roleIn, writeVisit } from '../../lib/visit-writer';
import { withWords } from '../../ui/visit/in-use';
import { SlipDialog } from './slip-dialog';

const places: Readonly<Record<string, string>> = { indoors: 'indoors', outdoors: 'outdoors', rough: 'rough ground' };

function contacts(run: Run): string {
  const parts: readonly (readonly [number, string])[] = [
    [run.things, 'thing'],
    [run.people, 'person'],
    [run.prompts, 'prompt'],
    [run.rescues, 'take-over'],
    [run.unmeant, 'command not meant'],
    [run.presses, 'press not meant'],
  ];
  const said = parts.filter(([n]) => n > 0).map(([n, word]) => `${n} × ${word}`);
  return said.length === 0 ? 'nothing counted' : said.join(', ');
}

const commonReasons = ['Saved by mistake', 'Saved twice', 'The clock ran on', 'Wrong place or state', 'Another person drove'];

function Row(props: { readonly visit: Visit; readonly run: Run; readonly saver: Saver }) {
  const { visit, run, saver } = props;
  const { value: asking, set: setAsking } = useDraft({ about: visit.id, name: `set aside ${run.ref}` }, false);
  const time = clockWords(run.seconds * 1000);
  const words = `the run of ${time}`;
  const mark = (slip: boolean, reason: string) => {
    setAsking(false);
    const body: RunMarked = { run: run.ref, slip, ...(reason === '' ? {} : { reason }) };
    void saver.save(slip ? `${words} set aside` : `${words} taken back in`, () => writeVisit(visit, 'run-marked', body));
  };
  return (
    <li class={run.slip ? 'reading reading-slip' : 'reading'}>
      <span class="reading-words">
        {run.slip ? 'Set aside: ' : ''}
        <strong>
          {places[run.place] ?? run.place}, {run.state}
          {run.route ? `, ${run.route}` : ''}
          {withWords(visit, run)}
        </strong>
        : {time}, {numberWords(run.metres)} m; {contacts(run)}. {timeWords(run.at)}
        {run.slip ? ` (${run.slip})` : ''}
      </span>
      {mayMark(visit, run) ? (
        run.slip ? (
          <Button label={`Take ${words} back in`} onPress={() => mark(false, '')}>
            Take back in
          </Button>
        ) : (
          <Button label={`Set aside ${words}`} onPress={() => setAsking(true)}>
            Set aside…
          </Button>
        )
      ) : null}
      <SlipDialog
        visit={visit.id}
        of={run.ref}
        words={words}
        common={commonReasons}
        open={asking}
        onClose={() => setAsking(false)}
        onReason={(reason) => mark(true, reason)}
      />
    </li>
  );
}

/** An assistant sets aside only what is their own; the server holds to the same. */
function mayMark(visit: Visit, run: Run): boolean {
  const role = roleIn(visit.team);
  return isOpen(visit) && mayWrite(role, 'run-marked') && (role !== 'assistant' || run.by === session.value?.person.id);
}

/** The runs that are saved. None leaves the list; what is set aside says why. */
export function RunList(props: { readonly visit: Visit }) {
  const { runs } = props.visit;
  const saver = useSave();
  return (
    <section aria-labelledby="runs">
      <h2 id="runs">Saved runs</h2>
      {runs.length === 0 ? (
        <p class="field-hint">None yet.</p>
      ) : (
        <ol class="readings">
          {runs.map((run) => (
            <Row key={run.ref} visit={props.visit} run={run} saver={saver} />
          ))}
        </ol>
      )}
      <SavedLine state={saver.state} />
    </section>
  );
}
