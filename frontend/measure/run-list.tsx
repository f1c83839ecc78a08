import type { Run, Visit } from '../model.gen';
import { clockWords, numberWords, timeWords } from '../parts';

const places: Readonly<Record<string, string>> = { indoors: 'indoors', outdoors: 'outdoors', rough: 'rough ground' };

function contacts(run: Run): string {
  const parts: readonly (readonly [number, string])[] = [
    [run.things, 'thing'], [run.people, 'person'], [run.prompts, 'prompt'], [run.rescues, 'rescue'],
    [run.unmeant, 'unmeant command'], [run.presses, 'unmeant press'],
  ];
  const said = parts.filter(([n]) => n > 0).map(([n, word]) => `${n} × ${word}`);
  return said.length === 0 ? 'nothing counted' : said.join(', ');
}

/** The runs that are saved. */
export function RunList(props: { readonly visit: Visit }) {
  const { runs } = props.visit;
  return (
    <section aria-labelledby="runs">
      <h2 id="runs">Saved runs</h2>
      {runs.length === 0 ? <p class="field-hint">None yet.</p> : (
        <ol class="runs">
          {runs.map((run) => (
            <li key={run.ref}>
              <strong>{places[run.place] ?? run.place}, {run.state}{run.route ? `, ${run.route}` : ''}</strong>:{' '}
              {clockWords(run.seconds * 1000)}, {numberWords(run.metres)} m; {contacts(run)}. {timeWords(run.at)}
            </li>
          ))}
        </ol>
      )}
    </section>
  );
}
