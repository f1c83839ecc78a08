import { useEffect } from 'preact/hooks';
import { usePlace } from '../../ui/address';
import { Banner } from '../../ui/banner';
import { Button } from '../../ui/button';
import { session } from '../../lib';
import { discardInput, restoreInput, unsavedInput } from './unsaved-input';

/** Text from before a lock whose field is not on the screen: shown, so that it is not lost. */
export function RestoreInput() {
  const { path } = usePlace();
  const here = session.value !== null;
  useEffect(() => (here ? restoreInput(path) : undefined), [path, here]);
  if (unsavedInput.value.length === 0) return null;
  return (
    <Banner tone="note" title="You were typing this when the tablet locked or closed" live>
      <ul class="notes">
        {unsavedInput.value.map((one) => (
          <li key={`${one.about ?? ''} ${one.label} ${one.nth}`}>
            {one.heading ? `${one.heading}, ` : ''}“{one.label}”: {one.text}
          </li>
        ))}
      </ul>
      <p>It goes back into its field when you open it, unless a newer text stands there.</p>
      <Button onPress={() => discardInput(path)}>Throw it away</Button>
    </Banner>
  );
}
