import { Button } from '../ui/button';
import { locksIn } from './idle';

/** Tells that the tablet is about to lock; any touch keeps it open, and this is one to aim at. */
export function IdleWarning() {
  const seconds = locksIn.value;
  if (seconds === null) return null;
  return (
    <div class="idle-warning" role="alertdialog" aria-label="This tablet locks soon">
      <p>
        Nobody has touched this tablet. It locks in <strong>{seconds}</strong> {seconds === 1 ? 'second' : 'seconds'}; what is typed is
        kept.
      </p>
      <Button kind="main" size="big">
        Stay
      </Button>
    </div>
  );
}
