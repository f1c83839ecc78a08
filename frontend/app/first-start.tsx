import { PasskeyPart, PinPart } from '../features/lock/tablet-part';
import { Button } from '../ui/button';
import { More, Page } from '../ui/page';
import { Part } from '../ui/part';
import { CAUTIONS, INTENDED_USE } from '../ui/result/cautions';
import { markRead } from './cautions-read';

/** What everybody reads once before the first use of a tablet. */
export function FirstStart() {
  return (
    <Page
      title="Before you start"
      actions={
        <Button kind="main" size="big" onPress={markRead}>
          I have read this
        </Button>
      }
    >
      {INTENDED_USE.map((sentence) => (
        <p key={sentence}>{sentence}</p>
      ))}
      <Part title="Opening it quickly">
        <p>The tablet locks when nobody touches it. These open it without your password; you find them again under Account.</p>
        <More summary="PIN for today">
          <PinPart />
        </More>
        <PasskeyPart />
      </Part>
      <ol class="cautions">
        {CAUTIONS.map((caution) => (
          <li key={caution}>{caution}</li>
        ))}
      </ol>
    </Page>
  );
}
