import { Banner, Button } from '../../ui';
import { goToProvider } from '../../lib';

/** The way to the organisation's sign-in, and why the last try there did not work. */
export function ByProvider(props: { readonly start: string; readonly refused: string | undefined }) {
  return (
    <>
      {props.refused ? (
        <Banner tone="caution" title="Not signed in" live>
          {props.refused}
        </Banner>
      ) : null}
      <Button kind="main" size="big" onPress={() => void goToProvider(props.start)}>
        Sign in at your organisation
      </Button>
      <p>Or with a name and a password:</p>
    </>
  );
}
