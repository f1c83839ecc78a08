import type { ComponentChildren } from 'preact';
import { useErrorBoundary } from 'preact/hooks';
import { Button } from '../ui/button';
import { Page } from '../ui/page';

function Trouble(props: { readonly onAgain: () => void }) {
  return (
    <Page title="This screen cannot be shown">
      <p>Something went wrong in the program. What was marked as saved is on this tablet; nothing of it is lost.</p>
      <p>
        Try the screen again. If it stays so, reload the page and sign in. If that does not help, carry on with your clinical judgement and
        paper, and tell your administrator.
      </p>
      <div class="actions">
        <Button kind="main" onPress={props.onAgain}>
          Try again
        </Button>
        <Button
          onPress={() => {
            location.reload();
          }}
        >
          Reload
        </Button>
      </div>
    </Page>
  );
}

/** Catches what a screen throws and says so in plain words. */
export function Boundary(props: { readonly children: ComponentChildren }) {
  const [error, again] = useErrorBoundary((thrown: unknown) => {
    console.error(thrown);
  });
  return error === undefined ? <>{props.children}</> : <Trouble onAgain={again} />;
}
