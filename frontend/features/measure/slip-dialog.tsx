import { useState } from 'preact/hooks';
import { Button, Dialog, TextField, useDraft } from '../../ui';
import { lengths } from '../../lib/model.gen';

/** Why readings are set aside most often. */
export const commonReasons = ['Gauge slipped', 'Wrong direction', 'Helped by the trunk', 'Typed wrongly', 'Not ready'];

/** Asks why a reading or a run is set aside. */
export function SlipDialog(props: {
  /** The visit, and what in it is set aside. */
  readonly visit: string;
  readonly of: string;
  readonly words: string;
  readonly open: boolean;
  /** Reasons that are one tap away. */
  readonly common: readonly string[];
  readonly onClose: () => void;
  readonly onReason: (reason: string) => void;
}) {
  const draft = useDraft({ about: props.visit, name: `slip ${props.of}`, title: `Why ${props.words} is set aside` }, '');
  const { value: reason, set: setReason } = draft;
  const [error, setError] = useState<string | undefined>(undefined);
  const done = (text: string) => {
    if (text.trim() === '') return setError('Expected why it is set aside, got nothing.');
    draft.drop();
    props.onReason(text.trim());
  };
  return (
    <Dialog
      title={`Set aside ${props.words}?`}
      open={props.open}
      onClose={props.onClose}
      actions={
        <Button kind="main" onPress={() => done(reason)}>
          Set aside with this reason
        </Button>
      }
    >
      <p>It stays in the record with its reason and does not count. You can take it back in.</p>
      <div class="actions">
        {props.common.map((text) => (
          <Button key={text} onPress={() => done(text)}>
            {text}
          </Button>
        ))}
      </div>
      <TextField label="Another reason" value={reason} onInput={setReason} error={error} maxLength={lengths['reading-marked'].reason} />
    </Dialog>
  );
}
