/** How far a backup or a restore has come, or why it did not work. */
export function BackupTold(props: { readonly busy: string | null; readonly wrong: string | null }) {
  return (
    <>
      {props.busy !== null && (
        <p className="backup-progress" role="status">
          {props.busy}
        </p>
      )}
      {props.wrong !== null && (
        <p className="backup-wrong" role="alert">
          {props.wrong}
        </p>
      )}
    </>
  );
}
