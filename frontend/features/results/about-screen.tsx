import { ButtonLink, DisplaySettings, Page } from '../../ui';
import { Part } from '../../ui/part';
import { CAUTIONS, INTENDED_USE } from '../../ui/result/cautions';
import { Thresholds } from '../../ui/result/threshold-table';

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
    </Page>
  );
}
