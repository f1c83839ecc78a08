import { Button, More } from '../../ui';
import { levelChoices, shortHelp } from '../../ui/answer';
import { NoSwitch, ofTheSwitch } from '../../ui/visit/no-switch';
import { dateWords } from '../../ui/words';
import type { Section, VisitView } from '../../lib';
import { isOpen } from '../../lib/visit-writer';
import { AllFine } from './all-fine';
import type { Ceilings } from './ceilings';
import { isOffering, setOffering } from './last-visit';

/** Where there is room the legend stands open; on a telephone it is a tap away. */
function roomy(): boolean {
  return matchMedia('(min-width: 48rem)').matches;
}

/** What the help levels mean, once for the part. */
export function HelpLegend(props: { readonly section: Section; readonly view: VisitView }) {
  const help = props.section.items.find((item) => item.type === 'help');
  if (help === undefined) return null;
  const lines = (
    <dl class="help-legend" id="help-legend">
      {levelChoices(help, props.view.checklist).map((one) => (
        <div key={one.value}>
          <dt>
            {one.value} {shortHelp(one)}
          </dt>
          <dd>{one.text}</dd>
        </div>
      ))}
    </dl>
  );
  return (
    <More summary="What 4 to 0 mean" open={roomy()}>
      {lines}
    </More>
  );
}

/** Shows the answers of the visit before in this part, or hides them again. They count as not tested until each is touched. */
function AsLastVisit(props: {
  readonly view: VisitView;
  readonly section: Section;
  readonly last: VisitView | null;
  readonly offers: number;
}) {
  const { view, section, last, offers } = props;
  const on = isOffering(view.visit.id, section.code);
  if (last === null || !isOpen(view.visit) || (offers === 0 && !on)) return null;
  return (
    <Button pressed={on} onPress={() => setOffering(view.visit.id, section.code, !on)}>
      As last visit, {dateWords(last.visit.started.at)}
    </Button>
  );
}

/** What can be done for a whole part: as at the last visit, all fine, no switch. */
export function PartHead(props: {
  readonly view: VisitView;
  readonly section: Section;
  readonly last: VisitView | null;
  readonly ceilings: Ceilings;
  /** How many open items have an answer of the visit before. */
  readonly offers: number;
  /** With what the help levels mean. */
  readonly legend: boolean;
}) {
  const { view, section } = props;
  return (
    <div class="part-head">
      <div class="actions part-acts">
        <AsLastVisit {...props} />
        <AllFine view={view} section={section} ceilings={props.ceilings} />
        {section.items.some((item) => item.id === ofTheSwitch[0]) ? <NoSwitch view={view} /> : null}
      </div>
      {props.legend ? <HelpLegend section={section} view={view} /> : null}
    </div>
  );
}
