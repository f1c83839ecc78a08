import { Button, numberWords, useDraft, type Saver } from '../../ui';
import type { VisitView } from '../../lib';
import type { Reading } from '../../lib/model.gen';
import { writeVisit } from '../../lib/visit-writer';
import { withWords } from '../../ui/visit/in-use';
import { commonReasons, SlipDialog } from './slip-dialog';

function readingWords(reading: Reading): string {
  return reading.missed ? 'missed' : `${numberWords(reading.value)} ${reading.unit}`;
}

function Row(props: {
  readonly view: VisitView;
  readonly reading: Reading;
  readonly place: number;
  readonly odd: boolean;
  readonly saver: Saver;
}) {
  const { view, reading, saver } = props;
  const { value: asking, set: setAsking } = useDraft({ about: view.visit.id, name: `set aside ${reading.ref}` }, false);
  const words = readingWords(reading);
  const mark = (slip: boolean, reason: string) => {
    setAsking(false);
    const body = { reading: reading.ref, slip, ...(reason === '' ? {} : { reason }) };
    void saver.save(slip ? `${words} set aside` : `${words} taken back in`, () => writeVisit(view.visit, 'reading-marked', body));
  };
  return (
    <li class={reading.slip ? 'reading reading-slip' : 'reading'}>
      <span class="reading-words">
        {reading.slip ? 'Set aside: ' : `${props.place}. `}
        <strong>{words}</strong>
        {reading.class ? withWords(view.visit, reading) : ''}
        {reading.moved ? ', moved here' : ''}
        {reading.slip ? ` (${reading.slip})` : ''}
        {props.odd ? <span class="reading-odd"> differs much from the others: keep it, or set it aside</span> : null}
      </span>
      {reading.slip ? (
        <Button label={`Take ${words} back in`} onPress={() => mark(false, '')}>
          Take back in
        </Button>
      ) : (
        <Button label={`Set aside ${words}`} onPress={() => setAsking(true)}>
          Set aside…
        </Button>
      )}
      <SlipDialog
        visit={view.visit.id}
        of={reading.ref}
        words={words}
        common={commonReasons}
        open={asking}
        onClose={() => setAsking(false)}
        onReason={(reason) => mark(true, reason)}
      />
    </li>
  );
}

/** After a time was kept: where to go with one that a slip of the finger started or stopped. */
export function SlipHint(props: { readonly readings: readonly Reading[] }) {
  const last = props.readings.findLast((reading) => !reading.slip);
  if (last === undefined) return null;
  return <p class="field-hint">Started or stopped by a slip? Tap “Set aside…” beside {readingWords(last)} in the list below.</p>;
}

/** Readings of one slot. Nothing leaves the list; what is set aside says why. */
export function ReadingList(props: {
  readonly view: VisitView;
  readonly readings: readonly Reading[];
  /** Refs of the readings that differ much from the others. */
  readonly odd: ReadonlySet<string>;
  readonly saver: Saver;
}) {
  if (props.readings.length === 0) return <p class="field-hint">No reading here yet.</p>;
  let place = 0;
  return (
    <ol class="readings">
      {props.readings.map((reading) => {
        if (!reading.slip) place += 1;
        return (
          <Row key={reading.ref} view={props.view} reading={reading} place={place} odd={props.odd.has(reading.ref)} saver={props.saver} />
        );
      })}
    </ol>
  );
}
