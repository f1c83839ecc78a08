import { useMemo } from 'preact/hooks';
import { Button, ButtonLink } from '../../ui';
import { Part } from '../../ui/part';
import { effectiveLevel, type Standing } from '../../ui/result/level-head';
import { ResultBody } from '../../ui/result/result-body';
import { createTitles } from '../../ui/result/titles';
import { VisitFrame } from '../../ui/visit/frame';
import { links } from '../../ui/visit/links';
import type { VisitView } from '../../lib';
import { dateOf } from '../../lib/dates';
import type { Result } from '../../lib/model.gen';
import { OverridePart } from './override-part';
import { readAloud } from './read-aloud';

/** The level of one visit with all its reasons. */
export function LevelScreen(props: { readonly id: string }) {
  return (
    <VisitFrame id={props.id} title="Level" wide actions={(view) => <LevelActions view={view} />}>
      {(view) =>
        view.result ? (
          <Level view={view} result={view.result} />
        ) : (
          <p role="status">{view.engineError === '' ? 'Working out the level…' : 'No level could be worked out here.'}</p>
        )
      }
    </VisitFrame>
  );
}

function LevelActions(props: { readonly view: VisitView }) {
  const { visit } = props.view;
  return (
    <>
      {visit.signed ? null : (
        <ButtonLink kind="main" size="big" href={links.sign(visit.id)}>
          Sign
        </ButtonLink>
      )}
      <ButtonLink size="big" href={links.missing(visit.id)}>
        What is missing
      </ButtonLink>
      <Button size="big" onPress={() => window.print()}>
        Print
      </Button>
    </>
  );
}

function Level(props: { readonly view: VisitView; readonly result: Result }) {
  const { view, result } = props;
  const { visit } = view;
  const titles = useMemo(() => createTitles(view.checklist), [view.checklist]);
  const hrefOf = (item: string): string | undefined => {
    const place = titles.item(item);
    return place ? links.item(visit.id, place.section, item) : undefined;
  };
  return (
    <div class="result level-paper">
      <ResultBody result={result} checklist={view.checklist} standing={standingOf(view)} hrefOf={hrefOf}>
        <OverridePart visit={visit} result={result} today={dateOf(new Date())} />
        <Part title="To read aloud" class="read-aloud">
          {readAloud(result, titles, { level: effectiveLevel(result), recheck: visit.plan?.recheck ?? '' }).map((sentence) => (
            <p key={sentence}>{sentence}</p>
          ))}
        </Part>
      </ResultBody>
    </div>
  );
}

function standingOf(view: VisitView): Standing {
  if (view.provisional) return 'provisional';
  return view.differs ? 'differs' : 'confirmed';
}
