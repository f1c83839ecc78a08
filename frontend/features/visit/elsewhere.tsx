import { useEffect, useState } from 'preact/hooks';
import { Button } from '../../ui';
import { links } from '../../ui/visit/links';
import { siteWords } from '../../ui/sites';
import { sentenceOf } from '../../ui/words';
import { measuredAnswers, type Item, type VisitView } from '../../lib';
import type { AnswerGiven, MeasuredAnswer } from '../../lib/model.gen';

/** Items that are measured or asked elsewhere in the visit too. What is found there is shown here, and nobody has to find it twice. */
const measuredElsewhere: ReadonlySet<string> = new Set(['hom-door', 'hom-turn', 'hom-sill', 'hom-ramp', 'hom-load', 'mnt-clear']);

/** What was measured elsewhere in the visit says to the checklist; nothing while it is not asked. */
export function useMeasuredList(view: VisitView, asks: boolean): readonly MeasuredAnswer[] {
  const { visit } = view;
  const [found, setFound] = useState<readonly MeasuredAnswer[]>([]);
  const asked = asks ? JSON.stringify([visit.chair, visit.places, visit.mount?.clear_s]) : '';
  useEffect(() => {
    if (asked === '') return undefined;
    let here = true;
    measuredAnswers(visit.id).then(
      (list) => here && setFound(list),
      () => here && setFound([]),
    );
    return () => {
      here = false;
    };
  }, [asked, visit.id]);
  return found;
}

/** What was measured elsewhere says to the item; undefined while nothing was. */
export function useMeasured(view: VisitView, item: Item): MeasuredAnswer | undefined {
  return useMeasuredList(view, measuredElsewhere.has(item.id)).find((one) => one.item === item.id);
}

/** An item's answer as it was measured; its note and what was said beside it stay. */
export function measuredAnswer(found: MeasuredAnswer, shown: AnswerGiven): AnswerGiven {
  const { item, number, level, facts } = found;
  return {
    item,
    state: 'answered',
    ...(number === undefined ? {} : { number }),
    ...(level ? { level } : {}),
    ...(facts || shown.facts ? { facts: { ...shown.facts, ...facts } } : {}),
    ...(shown.note ? { note: shown.note } : {}),
  };
}

/** Whether the answer says what was measured. */
function says(answer: AnswerGiven, found: MeasuredAnswer): boolean {
  return answer.state === 'answered' && answer.number === found.number && (answer.level ?? '') === (found.level ?? '');
}

interface ElsewhereProps {
  readonly item: Item;
  readonly view: VisitView;
  readonly shown: AnswerGiven;
  readonly give: (answer: AnswerGiven) => Promise<boolean>;
}

/** What was measured elsewhere, with a link there, and a button that takes it as the answer. */
export function Elsewhere(props: ElsewhereProps) {
  const { item, view, shown, give } = props;
  const found = useMeasured(view, item);
  const said = saidElsewhere(view, item);
  if (found === undefined && said === undefined) return null;
  if (found === undefined) {
    return (
      <p class="elsewhere">
        <span>{said?.words}</span> <a href={said?.href}>{said?.link}</a>
      </p>
    );
  }
  const { place } = found;
  return (
    <p class="elsewhere">
      <span>{sentenceOf(found.message)}</span>{' '}
      <a href={place ? links.place(view.visit.id, place) : links.mount(view.visit.id)}>{place ? 'To the place' : 'To the mounting'}</a>
      {says(shown, found) ? null : (
        <Button
          class="elsewhere-take"
          label={`Take what was measured: ${item.title}`}
          onPress={() => void give(measuredAnswer(found, shown))}
        >
          Take it
        </Button>
      )}
    </p>
  );
}

interface Said {
  readonly words: string;
  readonly href: string;
  readonly link: string;
}

/** What was asked elsewhere about the same thing. It is no answer to this item, and is not asked again. */
function saidElsewhere({ visit }: VisitView, item: Item): Said | undefined {
  const { needs, setup } = visit;
  const site = setup?.site ?? '';
  switch (item.id) {
    case 'ctl-wet': {
      const moisture = needs?.moisture?.[site];
      const words = moisture ? `Needs: the ${siteWords(site)} gets ${moisture}.` : 'How wet the site gets is asked under Needs.';
      return { words, href: links.needs(visit.id), link: 'To the needs' };
    }
    case 'out-rough': {
      const rough = needs?.rough_ground;
      const words =
        rough === undefined
          ? 'Whether rough ground is needed is asked under Needs.'
          : `Needs: rough ground is ${rough ? '' : 'not '}on a needed route.`;
      return { words, href: links.needs(visit.id), link: 'To the needs' };
    }
    case 'pos-limb': {
      const taken = visit.readings.filter((one) => !one.slip && one.what === 'force');
      if (taken.length === 0) return undefined;
      const held = taken.filter((one) => one.supported).length;
      const how = held === taken.length ? 'supported' : held === 0 ? 'not supported' : `${held} of ${taken.length} supported`;
      return { words: `Force was measured ${how}.`, href: links.measure(visit.id, 'force'), link: 'To the readings' };
    }
    default:
      return undefined;
  }
}
