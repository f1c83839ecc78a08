import { useState } from 'preact/hooks';
import { AreaField, Banner, Button, Dialog, timeWords, useDraft } from '..';
import { countWords, kindWords } from '../words';
import { findItem } from './links';
import type { Definition } from '../../lib';
import { lengths, type Amendment, type Visit } from '../../lib/model.gen';
import { amendingReason, mayWrite, roleIn, startAmending, stopAmending } from '../../lib/visit-writer';

function AskReason(props: {
  readonly visit: string;
  readonly open: boolean;
  readonly onClose: () => void;
  readonly onReason: (reason: string) => void;
}) {
  const draft = useDraft({ about: props.visit, name: 'amend reason', title: 'Why the signed visit changes' }, '');
  const { value: reason, set: setReason } = draft;
  const [error, setError] = useState<string | undefined>(undefined);
  const begin = () => {
    if (reason.trim() === '') setError('Expected why the signed visit changes, got nothing.');
    else {
      props.onReason(reason.trim());
      draft.drop();
    }
  };
  return (
    <Dialog
      title="Amend a signed visit"
      open={props.open}
      onClose={props.onClose}
      actions={
        <Button kind="main" onPress={begin}>
          Amend
        </Button>
      }
    >
      <p>What was signed stays readable. Every change is added with your name, the time and this reason.</p>
      <AreaField
        label="Why does it change?"
        value={reason}
        maxLength={lengths['amendment-made'].reason}
        onInput={setReason}
        error={error}
        required
      />
    </Dialog>
  );
}

/** What an amendment changes: the item by its title where it is an answer, else the sort of entry. */
export function amendedWords(amendment: Amendment, checklist: Definition | undefined): string {
  const item = amendment.item === undefined || checklist === undefined ? undefined : findItem(checklist, amendment.item)?.item;
  return item?.title ?? kindWords(amendment.kind);
}

/** Says that a visit is signed, and lets a clinician amend it with a reason. */
export function AmendBar(props: { readonly visit: Visit }) {
  const { visit } = props;
  const { value: asking, set: setAsking } = useDraft({ about: visit.id, name: 'amend' }, false);
  if (visit.signed === undefined) return null;
  const reason = amendingReason(visit.id);
  if (reason !== undefined) {
    return (
      <Banner tone="caution" title="Amending">
        <p>Every entry is added as an amendment. Reason: {reason}</p>
        <Button onPress={() => stopAmending(visit.id)}>Finish amending</Button>
      </Banner>
    );
  }
  return (
    <Banner tone="note" title="Signed">
      <p>
        By {visit.signed.name}, {timeWords(visit.signed.at)}.{' '}
        {visit.amendments.length > 0 ? `Amended ${countWords(visit.amendments.length, 'time')} since.` : ''}
      </p>
      {mayWrite(roleIn(visit.team), 'amendment-made') ? <Button onPress={() => setAsking(true)}>Amend…</Button> : null}
      <AskReason
        visit={visit.id}
        open={asking}
        onClose={() => setAsking(false)}
        onReason={(why) => {
          startAmending(visit.id, why);
          setAsking(false);
        }}
      />
    </Banner>
  );
}
