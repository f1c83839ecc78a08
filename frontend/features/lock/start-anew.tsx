import { Button } from '../../ui/button';
import { More } from '../../ui/more';

/** The way on for who does not know the password that locks what is on this tablet. */
export function StartAnew(props: { readonly onPress: () => void; readonly disabled: boolean }) {
  return (
    <More summary="I do not know the one before">
      <p>
        What you signed on this tablet is sealed for your organisation and can still be sent; you find it under Account. What was begun and
        not signed stays locked here until the password comes back to mind; then you open it under Account.
      </p>
      <Button onPress={props.onPress} disabled={props.disabled}>
        Start anew on this tablet
      </Button>
    </More>
  );
}
