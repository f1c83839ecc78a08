import { useMemo } from 'preact/hooks';
import { Button, ButtonLink, DoorMark, More, isLevel, levelWord } from '../../ui';
import { classWords } from '../../ui/control-classes';
import { Part } from '../../ui/part';
import { Door } from '../../ui/pictures/door';
import { Control } from '../../ui/result/control';
import { Domains } from '../../ui/result/domains';
import { Limits, Stops } from '../../ui/result/effects';
import { GateTable } from '../../ui/result/gates';
import { effectiveLevel, LevelStanding, type Standing } from '../../ui/result/level-head';
import { ResultNotes } from '../../ui/result/result-body';
import { ThreeControls } from '../../ui/result/three-controls';
import { createTitles } from '../../ui/result/titles';
import { isStop, LEVEL_MEANING } from '../../ui/result/words';
import { siteWords } from '../../ui/sites';
import { VisitFrame } from '../../ui/visit/frame';
import { links } from '../../ui/visit/links';
import { WhichCounts } from '../../ui/visit/which-counts';
import { sentenceOf } from '../../ui/words';
import type { VisitView } from '../../lib';
import { dateOf } from '../../lib/dates';
import { levels, type Result, type Visit } from '../../lib/model.gen';
import { ChangeCards } from './change-cards';
import { changesOf } from './changes';
import { OverridePart } from './override-part';
import { readAloud } from './read-aloud';
import { ShutWays } from './shut-ways';

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
      <Button size="big" onPress={() => window.print()}>
        Print
      </Button>
    </>
  );
}

/** For whom the level holds: the part of the body, the control and the place. */
function forWhat(visit: Visit): string {
  const { setup } = visit;
  if (!setup) return '';
  return [siteWords(setup.site), setup.control || classWords(setup.class), setup.place, setup.window].filter((part) => part).join(', ');
}

/** The door with its word, what it means, and where it stands among the others. */
function LevelSide(props: { readonly view: VisitView; readonly result: Result }) {
  const { view, result } = props;
  const level = effectiveLevel(result);
  const barred = level === 'pause' && result.effects.some((effect) => isStop(effect.effect));
  const what = forWhat(view.visit);
  return (
    <div class="level-side level-says">
      <Door level={isLevel(level) ? level : 'none'} barred={barred} />
      <p class="level-word level-name">{levelWord(level)}</p>
      <p class="level-meaning">{isLevel(level) ? LEVEL_MEANING[level] : ''}</p>
      {what === '' ? null : <p class="level-for">{what}.</p>}
      <LevelStanding result={result} standing={standingOf(view)} />
      <ol class="level-ladder" aria-label="Levels from the lowest up">
        {levels
          .filter((one) => one !== 'none')
          .map((one) => (
            <li key={one} aria-current={one === level ? 'true' : undefined}>
              <svg viewBox="0 0 72 72" aria-hidden="true" focusable="false">
                <DoorMark level={one} x={36} y={44} size={72} />
              </svg>
              {levelWord(one)}
            </li>
          ))}
      </ol>
    </div>
  );
}

function Level(props: { readonly view: VisitView; readonly result: Result }) {
  const { view, result } = props;
  const { visit, checklist } = view;
  const titles = useMemo(() => createTitles(checklist), [checklist]);
  const hrefOf = (item: string): string | undefined => {
    const place = titles.item(item);
    return place ? links.item(visit.id, place.section, item) : undefined;
  };
  const headline = sentenceOf(result.headline) || sentenceOf(result.message);
  return (
    <div class="level-page level-paper">
      <LevelSide view={view} result={result} />
      <div class="level-main">
        <p class="level-headline">{headline}</p>
        <Part title="To read aloud" class="read-aloud">
          {sentenceOf(result.aloud) === '' ? null : <p class="aloud-first">“{sentenceOf(result.aloud)}”</p>}
          <More summary="The whole of it, from thanks to questions" class="fold" open={sentenceOf(result.aloud) === ''}>
            {readAloud(result, { level: effectiveLevel(result), recheck: visit.plan?.recheck ?? '' }).map((sentence) => (
              <p key={sentence}>{sentence}</p>
            ))}
          </More>
        </Part>
        <WhichCounts view={view} />
        <ShutWays visit={visit} result={result} />
        <ChangeCards changes={changesOf(result, visit, checklist, titles)} />
        <Part title="Three controls, when tired" class="level-controls">
          <ThreeControls
            result={result}
            visit={visit}
            more={
              <a class="link-row" href={links.controls(visit.id)}>
                All controls, side by side
              </a>
            }
          />
        </Part>
        <div class="result level-folds">
          <More summary={openWords(result)} class="fold">
            <Stops result={result} titles={titles} hrefOf={hrefOf} />
            <Limits result={result} titles={titles} hrefOf={hrefOf} />
          </More>
          <More summary="Ten parts, each with its number" class="fold">
            <Domains result={result} checklist={checklist} titles={titles} hrefOf={hrefOf} />
          </More>
          <More summary="All conditions of every level" class="fold">
            <GateTable result={result} />
          </More>
          <More summary="The control at the chosen site, rule by rule" class="fold">
            <Control result={result} />
          </More>
          <More summary="Decide on another level" class="fold">
            <OverridePart visit={visit} result={result} today={dateOf(new Date())} />
          </More>
          <More summary="Cautions, limits used and their sources" class="fold">
            <ResultNotes result={result} />
          </More>
        </div>
      </div>
    </div>
  );
}

/** How much stands against driving, before anybody opens it. */
function openWords(result: Result): string {
  const stops = result.effects.filter((effect) => isStop(effect.effect)).length;
  const limits = result.effects.length - stops;
  if (stops + limits === 0) return 'Nothing forbids driving or holds the level';
  const parts = [
    stops > 0 ? `${stops} that ${stops === 1 ? 'forbids' : 'forbid'} driving` : '',
    limits > 0 ? `${limits} that ${limits === 1 ? 'holds' : 'hold'} the level` : '',
  ];
  return `What stands against it: ${parts.filter((part) => part !== '').join(', ')}`;
}

function standingOf(view: VisitView): Standing {
  if (view.provisional) return 'provisional';
  return view.differs ? 'differs' : 'confirmed';
}
