import { signal, type Signal } from '@preact/signals';
import { Button } from '../parts/button';
import { Page } from '../parts/page';
import { CAUTIONS, INTENDED_USE } from '../results/cautions';

const place = 'doorsill-cautions-read';

function wasRead(): boolean {
  try {
    return localStorage.getItem(place) === '1';
  } catch {
    return false; // Asked again next time; that harms nobody.
  }
}

/** Whether the cautions were read on this tablet. */
export const cautionsRead: Signal<boolean> = signal(wasRead());

function markRead(): void {
  cautionsRead.value = true;
  try {
    localStorage.setItem(place, '1');
  } catch {
    // It holds until the page closes.
  }
}

/** What everybody reads once before the first use of a tablet. */
export function FirstStart() {
  return (
    <Page
      title="Before you start"
      actions={<Button kind="main" size="big" onPress={markRead}>I have read this</Button>}
    >
      {INTENDED_USE.map((sentence) => <p key={sentence}>{sentence}</p>)}
      <ol class="cautions">{CAUTIONS.map((caution) => <li key={caution}>{caution}</li>)}</ol>
    </Page>
  );
}
