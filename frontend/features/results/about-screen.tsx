import { useState } from 'preact/hooks';
import { Button, ButtonLink, DisplaySettings, Page, reasonOf } from '../../ui';
import { Part } from '../../ui/part';
import { CAUTIONS, INTENDED_USE } from '../../ui/result/cautions';
import { Thresholds } from '../../ui/result/threshold-table';

/** The texts of the licences of what travels with the program; they are part of the offline copy. */
function Licences() {
  const [text, setText] = useState('');
  const fetchText = () => {
    fetch('/licences.txt')
      .then((answer) => answer.text())
      .catch(reasonOf)
      .then(setText);
  };
  if (text === '') return <Button onPress={fetchText}>Read their licences</Button>;
  return <p class="keep-lines">{text}</p>;
}

/** What the app is, what it is not, and every limit that it uses. */
export function AboutScreen() {
  return (
    <Page title="About and cautions" actions={<ButtonLink href="/">Today</ButtonLink>}>
      <Part title="Read this first">
        <ol class="cautions">
          {CAUTIONS.map((caution) => (
            <li key={caution}>{caution}</li>
          ))}
        </ol>
      </Part>
      <Part title="Who it is for">
        <ul class="notes">
          {INTENDED_USE.map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ul>
      </Part>
      <Part title="How the screens look">
        <DisplaySettings />
      </Part>
      <Part title="Limits used, with source and status">
        <p>
          No cut-off here has been validated. “Proposal” means that we chose it and say so; “common practice” means that people in the trade
          use it and no source was found.
        </p>
        <Thresholds />
      </Part>
      <Part title="Typefaces">
        <p>Literata and Atkinson Hyperlegible, under the SIL Open Font License 1.1.</p>
        <Licences />
      </Part>
    </Page>
  );
}
