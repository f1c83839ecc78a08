/** What the head of the page holds while a visit is open. */
import { useEffect, useState } from 'preact/hooks';
import { Button, Dialog, clockWords, timeWords } from '..';
import { lock } from '../../lib';
import { counters } from '../../lib/counters';
import { pauseClocks, elapsedOf, watchClocks } from '../../lib/trial/clock';
import { steadyNow } from '../../lib/trial/moment';
import { trials } from '../../lib/trials';
import { Icon } from '../icon';
import { pageHead } from '../page-head';
import { links } from './links';

/** A run that is timed while another screen is open. */
function RunningTrial(props: { readonly visit: string }) {
  const [, redraw] = useState(0);
  const { clock } = trials.of(props.visit).value.draft;
  const running = clock.since !== null;
  useEffect(() => {
    if (!running) return undefined;
    const timer = setInterval(() => redraw((count) => count + 1), 1000);
    return () => clearInterval(timer);
  }, [running]);
  if (!running) return null;
  return (
    <a class="top-clock" href={links.trial(props.visit)}>
      <Icon name="clock" />
      <span>
        <span class="top-word">Trial clock </span>
        {clockWords(elapsedOf(clock, steadyNow()))}
      </span>
    </a>
  );
}

/** Stops every clock, asks nothing, and says where one was. */
function PauseVisit() {
  const [at, setAt] = useState<string | null>(null);
  return (
    <>
      <Button
        class="top-button"
        onPress={() => {
          pauseClocks();
          setAt(new Date().toISOString());
        }}
      >
        <Icon name="pause" />
        <span class="top-word">Take a break</span>
      </Button>
      <Dialog
        title="A break"
        open={at !== null}
        mustChoose
        onClose={() => setAt(null)}
        actions={
          <>
            <Button kind="main" size="big" onPress={() => setAt(null)}>
              Go on
            </Button>
            <Button size="big" onPress={lock}>
              <Icon name="lock" />
              Lock the tablet
            </Button>
          </>
        }
      >
        <p>All clocks stand still. Everything entered is on this tablet.</p>
        <p>
          You were at: <strong>{pageHead.value.title}</strong>
          {at ? `, ${timeWords(at)}` : ''}.
        </p>
      </Dialog>
    </>
  );
}

export function VisitTools(props: { readonly visit: string }) {
  const { visit } = props;
  useEffect(() => {
    const mark = () => {
      trials.watch(visit);
      counters.watch(visit);
    };
    mark();
    return watchClocks(mark);
  }, [visit]);
  return (
    <>
      <RunningTrial visit={props.visit} />
      <PauseVisit />
    </>
  );
}
