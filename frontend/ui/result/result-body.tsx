import { useMemo } from 'preact/hooks';
import { More } from '..';
import { Part } from '../part';
import type { Result } from '../../lib/model.gen';
import { sentenceOf } from '../words';
import type { Definition } from '../../lib/records/types';
import { RESULT_CAUTIONS } from './cautions';
import { Control } from './control';
import { Domains } from './domains';
import { Limits, Stops, type HrefOf } from './effects';
import { GateTable, WayUp } from './gates';
import { LevelHead, type Standing } from './level-head';
import { Thresholds } from './threshold-table';
import { createTitles } from './titles';

const nowhere: HrefOf = () => undefined;

/** A whole result with all its reasons; the tablet and the lead's screen show the same. */
export function ResultBody(props: {
  readonly result: Result;
  readonly checklist: Definition;
  readonly standing: Standing;
  readonly hrefOf?: HrefOf | undefined;
}) {
  const { result, checklist, standing, hrefOf = nowhere } = props;
  const titles = useMemo(() => createTitles(checklist), [checklist]);
  return (
    <>
      <LevelHead result={result} standing={standing} />
      <Stops result={result} titles={titles} hrefOf={hrefOf} />
      <WayUp result={result} titles={titles} hrefOf={hrefOf} />
      <Limits result={result} titles={titles} hrefOf={hrefOf} />
      <Control result={result} />
      <Domains result={result} checklist={checklist} titles={titles} hrefOf={hrefOf} />
      <GateTable result={result} />
      <ResultNotes result={result} />
    </>
  );
}

/** What else is to be said of a result, the standing cautions, and the limits that were used. */
export function ResultNotes(props: { readonly result: Result }) {
  const { result } = props;
  return (
    <Part title="Notes and cautions">
      {result.notes.length > 0 ? (
        <ul class="notes">
          {result.notes.map((note) => (
            <li key={sentenceOf(note)}>{sentenceOf(note)}</li>
          ))}
        </ul>
      ) : null}
      <ul class="notes">
        {RESULT_CAUTIONS.map((caution) => (
          <li key={caution}>{caution}</li>
        ))}
      </ul>
      <More summary="Limits used, with source and status">
        <Thresholds />
      </More>
      <p class="quiet-line">
        Engine {result.engine}, checklist {result.rules.slice(0, 12)}.
      </p>
    </Part>
  );
}
