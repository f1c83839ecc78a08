import { useLocation } from 'preact-iso/router';
import { Banner } from '../parts/banner';
import { Button } from '../parts/button';
import { takeUpdate, waitingVersion } from './update';

/** Screens on which nothing can be half entered. */
function isQuiet(path: string): boolean {
  return ['/', '/sync', '/caseload', '/about', '/sign-in'].includes(path);
}

/** Offers a new version, and only where a reload can lose nothing. */
export function UpdateBanner() {
  const { path } = useLocation();
  if (waitingVersion.value === null || !isQuiet(path)) return null;
  return (
    <Banner tone="note" title="A new version is ready" live>
      <p>It takes a moment, and you sign in again. What is saved stays.</p>
      <Button onPress={takeUpdate}>Update now</Button>
    </Banner>
  );
}
