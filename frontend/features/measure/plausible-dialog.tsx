import { Button, Dialog } from '../../ui';
import type { Asked } from '../../ui/judge';

/** The question about an unusual value. */
export function PlausibleDialog(props: {
  readonly asked: Asked | null;
  readonly unit: string;
  readonly onTake: (value: number) => void;
  readonly onAgain: () => void;
}) {
  const { asked, unit } = props;
  const suggestion = asked?.suggestion ?? null;
  return (
    <Dialog
      title="Is that right?"
      open={asked !== null}
      onClose={props.onAgain}
      mustChoose
      actions={
        asked === null ? null : (
          <>
            {suggestion === null ? null : (
              <Button kind="main" size="big" onPress={() => props.onTake(suggestion)}>{`It was ${suggestion} ${unit}`}</Button>
            )}
            <Button size="big" onPress={() => props.onTake(asked.value)}>{`${asked.value} ${unit} is right`}</Button>
            <Button size="big" onPress={props.onAgain}>
              Type it again
            </Button>
          </>
        )
      }
    >
      <p>
        {asked?.sentence}
        {suggestion === null ? '' : ` Did you mean ${suggestion} ${unit}?`}
      </p>
    </Dialog>
  );
}
