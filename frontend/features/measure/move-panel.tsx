import { Button, numberWords, useDraft, type Saver } from '../../ui';
import type { Reading, Visit } from '../../lib/model.gen';
import { writeVisit } from '../../lib/visit-writer';
import type { Move } from './desk';
import { commonReasons, SlipDialog } from './slip-dialog';
import type { Slot } from './slots';

/** Where a touched reading belongs, in one touch: another direction, the other state, or aside. */
export function MovePanel(props: {
  readonly visit: Visit;
  readonly reading: Reading;
  /** The whole set, in which the reading is. */
  readonly set: readonly Reading[];
  readonly slots: readonly Slot[];
  readonly current: Slot;
  readonly saver: Saver;
  readonly onMove: (readings: readonly Reading[], to: Move, words: string) => void;
  readonly onClose: () => void;
}) {
  const { reading, set, current } = props;
  const { value, set: change, drop } = useDraft({ about: props.visit.id, name: `move ${reading.ref}` }, { all: false, asking: false });
  const { all, asking } = value;
  const setAsking = (to: boolean) => change((now) => ({ ...now, asking: to }));
  const close = () => {
    drop();
    props.onClose();
  };
  const words = `${numberWords(reading.value)} ${reading.unit}`;
  const other = reading.state === 'tired' ? 'rested' : 'tired';
  const move = (to: Move, where: string) => {
    props.onMove(all ? set : [reading], to, where);
    close();
  };
  const aside = (reason: string) => {
    close();
    void props.saver.save(`${words} set aside`, () =>
      writeVisit(props.visit, 'reading-marked', { reading: reading.ref, slip: true, reason }),
    );
  };
  return (
    <div class="move" role="group" aria-label={`Move ${words}`}>
      <p class="move-words">
        <strong>{all ? `All ${set.length} here` : words}</strong> belongs to:
      </p>
      <div class="move-ways">
        {props.slots
          .filter((slot) => slot.id !== current.id)
          .map((slot) => (
            <Button
              key={slot.id}
              size="big"
              onPress={() => move({ direction: slot.direction, switch: slot.switch ?? '', note: slot.note }, slot.words)}
            >
              {slot.words}
            </Button>
          ))}
        <Button size="big" onPress={() => move({ state: other }, other)}>
          {other === 'tired' ? 'Tired' : 'Rested'}
        </Button>
      </div>
      <div class="move-ways">
        {set.length > 1 ? (
          <Button size="big" pressed={all} onPress={() => change((now) => ({ ...now, all: !all }))}>
            All {set.length} of them
          </Button>
        ) : null}
        <Button size="big" label={`Set aside ${words}`} onPress={() => setAsking(true)}>
          Set aside…
        </Button>
        <Button size="big" onPress={close}>
          Leave it here
        </Button>
      </div>
      <SlipDialog
        visit={props.visit.id}
        of={reading.ref}
        words={words}
        common={commonReasons}
        open={asking}
        onClose={() => setAsking(false)}
        onReason={aside}
      />
    </div>
  );
}
