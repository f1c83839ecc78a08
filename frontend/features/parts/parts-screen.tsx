import { useEffect, useState } from 'preact/hooks';
import { Banner, Page } from '../../ui';
import { themeNames, type Theme } from '../../ui/display';
import { themeLabels } from '../../ui/display-settings';
import { FieldParts } from './field-parts';
import { LookParts } from './look-parts';
import { TellParts } from './tell-parts';
import { TouchParts } from './touch-parts';

/** Whether the server is a demo: it says so to whoever is not signed in. Null until it has answered. */
function useDemo(): boolean | null {
  const [demo, setDemo] = useState<boolean | null>(null);
  useEffect(() => {
    fetch('/api/v1/session', { credentials: 'omit' })
      .then((answer) => answer.json())
      .then((body: unknown) => setDemo(typeof body === 'object' && body !== null && 'demo' in body))
      .catch(() => setDemo(false));
  }, []);
  return demo;
}

/** Every part in one theme. */
function InTheme(props: { readonly theme: Theme }) {
  const { theme } = props;
  return (
    <section class="parts-theme" data-theme={theme} aria-label={`Theme: ${themeLabels[theme]}`}>
      <h2 class="parts-title">{themeLabels[theme]}</h2>
      <LookParts />
      <TouchParts />
      <FieldParts />
      <TellParts theme={theme} />
    </section>
  );
}

/** Every part in every state and theme, for those who build screens and for tests. A demo shows it; a real service does not. */
export function PartsScreen() {
  const demo = useDemo();
  if (demo === null) {
    return (
      <Page title="Parts">
        <p role="status">Asking the server…</p>
      </Page>
    );
  }
  return (
    <Page title="Parts" wide>
      {demo ? (
        <div class="parts-themes">
          {themeNames.map((theme) => (
            <InTheme key={theme} theme={theme} />
          ))}
        </div>
      ) : (
        <Banner tone="note">The parts are shown by a demo only.</Banner>
      )}
    </Page>
  );
}
