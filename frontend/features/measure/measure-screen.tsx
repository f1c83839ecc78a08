import { useEffect, useState } from 'preact/hooks';
import { Banner, Button, ButtonLink } from '../../ui';
import { usePlace } from '../../ui/address';
import { VisitFrame } from '../../ui/visit/frame';
import { links, measureTitles, type MeasureWhat } from '../../ui/visit/links';
import type { VisitView } from '../../lib';
import { isOpen } from '../../lib/visit-writer';
import { HoldScreen } from './hold-screen';
import { changePlace } from './place';
import { TIMED, TimedScreen } from './release-screen';
import { RepeatsScreen } from './repeats-screen';
import { measurements } from './slots';

const all = Object.keys(measureTitles) as readonly MeasureWhat[];

function Measuring(props: { readonly view: VisitView; readonly what: MeasureWhat }) {
  const { view, what } = props;
  const site = usePlace().query.site;
  useEffect(() => {
    if (site !== undefined && site !== '') changePlace(view.visit, { site });
    // Once for each address: afterwards the person chooses.
  }, [site]);
  if (!isOpen(view.visit)) return <Banner tone="note">This visit is signed. Choose “Amend” above to add readings.</Banner>;
  switch (what) {
    case 'release':
    case 'command':
    case 'stop-command':
      return <TimedScreen key={what} view={view} timed={TIMED[what]} />;
    case 'hold':
      return <HoldScreen view={view} />;
    default:
      return <RepeatsScreen key={what} view={view} measurement={measurements[what]} />;
  }
}

/** What is measured of controls that give all or nothing, and seldom of a stick. */
const ofSwitches: readonly MeasureWhat[] = ['command', 'stop-command', 'unasked', 'steps', 'breath'];
const sticks: readonly string[] = ['standard', 'small', 'very-light', 'force-sensing', 'attendant'];

/** What can be measured, each a tap away, and the drive after it; what a stick is seldom measured for only when it is asked for. */
function KindsNav(props: { readonly view: VisitView; readonly what: MeasureWhat | undefined }) {
  const { view, what } = props;
  const [more, setMore] = useState(false);
  const stick = view.visit.setup === undefined || sticks.includes(view.visit.setup.class);
  const every = more || !stick || (what !== undefined && ofSwitches.includes(what));
  const kinds = every ? all : all.filter((one) => !ofSwitches.includes(one));
  return (
    <nav class="measure-nav" aria-label="What to measure">
      {kinds.map((one) => (
        <ButtonLink key={one} href={links.measure(view.visit.id, one)} current={one === what} kind="quiet">
          {measureTitles[one]}
        </ButtonLink>
      ))}
      {every ? null : (
        <Button kind="quiet" expanded={false} onPress={() => setMore(true)}>
          More kinds
        </Button>
      )}
      <ButtonLink href={links.trial(view.visit.id)} kind="quiet">
        Driving trial
      </ButtonLink>
    </nav>
  );
}

/** One of the measuring screens; the others are a tap away. */
export function MeasureScreen(props: { readonly id: string; readonly what: string }) {
  const what = all.find((one) => one === props.what);
  return (
    <VisitFrame id={props.id} title={what === undefined ? 'Measure' : measureTitles[what]} wide>
      {(view) => (
        <>
          <KindsNav view={view} what={what} />
          {what === undefined ? <Banner tone="note">Choose what to measure.</Banner> : <Measuring view={view} what={what} />}
        </>
      )}
    </VisitFrame>
  );
}
