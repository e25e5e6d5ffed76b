package keeping

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"undersod/core/english"
	"undersod/internal/archive"
	"undersod/internal/archive/datafolder"
	"undersod/internal/holding"
)

func (p *Outside) backupCommand() *cobra.Command {
	var from archiveFolder
	var asJSON bool
	c := &cobra.Command{
		Use:   "backup FOLDER",
		Short: "Write one moment of an archive into a new folder, also while it is served",
		Long: `backup writes one moment of an archive into a folder that is empty or not there
yet: the database, and every job file and photo, each checked. It reads the
archive beside a server that is running, which goes on writing meanwhile. The
backup is finished when its archive.db has its name. Keep it on another disk.

The exit status is 1 where something in the archive is damaged: the backup is
then finished without it.`,
		Example: "  undersod backup /media/stick/2026-05-14\n  undersod backup copy --data archive",
		Args:    oneArgument("name one folder to write the backup into, as in: undersod backup copy"),
		RunE:    func(_ *cobra.Command, args []string) error { return p.backup(from, args[0], asJSON) },
	}
	from.flag(c)
	c.Flags().BoolVar(&asJSON, "json", false, "print what was done as JSON")
	return c
}

// oneArgument wants one argument, and says so.
func oneArgument(words string) cobra.PositionalArgs {
	return func(_ *cobra.Command, args []string) error {
		if len(args) != 1 || args[0] == "" {
			return errors.New(words)
		}
		return nil
	}
}

func (p *Outside) backup(from archiveFolder, to string, asJSON bool) error {
	ctx := context.Background()
	a, err := from.look(ctx)
	if err != nil {
		return err
	}
	defer a.Close()
	g := p.progress()
	if err := g.watch(ctx, a, "copied"); err != nil {
		return from.about(err)
	}
	err = a.Folder.Backup(ctx, to)
	g.end()
	trouble, err := lacking(err)
	if err != nil {
		return fmt.Errorf("the backup cannot be made: %v", err)
	}
	copied, err := count(ctx, to)
	if err != nil {
		return err
	}
	words := fmt.Sprintf("The backup in %s is finished: %v.\n", to, copied)
	return p.tellKept(keptDocument{Did: "backup", Folder: from.path, File: to, Holds: &copied, Trouble: trouble}, words, asJSON)
}

// lacking turns contents that were left out into trouble, a line each.
func lacking(err error) ([]string, error) {
	var l *datafolder.Lacking
	if !errors.As(err, &l) {
		return nil, err
	}
	var lines []string
	for _, h := range l.Contents {
		lines = append(lines, fmt.Sprintf("the content %s is missing or damaged; look for it in an older backup, as %s", h, filepath.Join("contents", string(h[:2]), string(h))))
	}
	return lines, nil
}

// count tells how much the archive of a folder holds.
func count(ctx context.Context, path string) (held, error) {
	a, err := (&archiveFolder{path}).look(ctx)
	if err != nil {
		return held{}, err
	}
	defer a.Close()
	return holds(ctx, a)
}

func (p *Outside) restoreCommand() *cobra.Command {
	var to archiveFolder
	var asJSON bool
	c := &cobra.Command{
		Use:   "restore BACKUP",
		Short: "Bring a backup back into an empty folder, everything checked",
		Long: `restore brings a backup back into a folder that is empty or not there yet. The
backup is only read. Its database is checked whole, and brought to the newest
shape where an older program wrote it; every job file and photo is checked.

The exit status is 1 where the backup has something damaged or missing: all else
is then restored.`,
		Example: "  undersod restore /media/stick/2026-05-14 --data archive",
		Args:    oneArgument("name one backup, as in: undersod restore copy --data archive"),
		RunE:    func(_ *cobra.Command, args []string) error { return p.restore(to, args[0], asJSON) },
	}
	to.flag(c)
	c.Flags().BoolVar(&asJSON, "json", false, "print what was done as JSON")
	return c
}

func (p *Outside) restore(to archiveFolder, backup string, asJSON bool) error {
	ctx := context.Background()
	if err := to.found(true); err != nil {
		return err
	}
	trouble, err := lacking(datafolder.Restore(ctx, backup, to.path))
	if err != nil {
		return fmt.Errorf("the backup in %s cannot be restored: %v", backup, err)
	}
	back, err := count(ctx, to.path)
	if err != nil {
		return err
	}
	words := fmt.Sprintf("Restored into %s: %v.\n", to.path, back)
	return p.tellKept(keptDocument{Did: "restore", Folder: to.path, File: backup, Holds: &back, Trouble: trouble}, words, asJSON)
}

func (p *Outside) verifyCommand() *cobra.Command {
	var of archiveFolder
	var asJSON, mend bool
	c := &cobra.Command{
		Use:   "verify",
		Short: "Check that everything in an archive or a backup is as it was written",
		Long: `verify reads everything in an archive, also one that is being served, or in a
backup: the database by its own check and by a checksum of every row, every job
file and photo by its SHA-256, the history of changes from the first to the last
and whether it leads to what stands, and whether what lists show and searches find is
what the job files say.

What lists show and searches look at is made from the job files. A newer program
may read more in them, and a disk may damage it; --mend makes it again, and needs
the folder for itself.

The exit status is 1 where something is not as it must be.`,
		Example: "  undersod verify --data archive\n  undersod verify --data /media/stick/2026-05-14",
		Args:    cobra.NoArgs,
		RunE:    func(*cobra.Command, []string) error { return p.verify(of, mend, asJSON) },
	}
	of.flag(c)
	c.Flags().BoolVar(&mend, "mend", false, "make what lists show and searches find again from the job files first")
	c.Flags().BoolVar(&asJSON, "json", false, "print what was found as JSON")
	return c
}

func (p *Outside) verify(of archiveFolder, mend, asJSON bool) error {
	ctx := context.Background()
	open := of.look
	if mend {
		if of.empty(ctx) {
			return of.noneThere()
		}
		open = of.open
	}
	a, err := open(ctx)
	if err != nil {
		return err
	}
	defer a.Close()
	g := p.progress()
	defer g.end()
	words := ""
	if mend {
		if err := a.Folder.Reindex(ctx); err != nil {
			return fmt.Errorf("what searches look at cannot be made again: %v", err)
		}
		changed, err := a.Records.Remake(ctx, func(at archive.Progress) { g.at("made again", at.Done, at.All) })
		if err != nil {
			return fmt.Errorf("what lists show cannot be made again: %v", err)
		}
		words = fmt.Sprintf("What lists show was made again for %s.\n", english.Count(int(changed), "site"))
	}
	trouble, err := faults(ctx, a, g)
	if err != nil {
		return fmt.Errorf("the check could not go on: %v", err)
	}
	g.end()
	d := keptDocument{Did: "verify", Folder: of.path, Trouble: trouble}
	if all, err := holds(ctx, a); err == nil {
		d.Holds = &all
		words += fmt.Sprintf("%s holds %v.\n", of.path, all)
	}
	if len(trouble) == 0 {
		words += "All of it is as it was written.\n"
	} else {
		words += fmt.Sprintf("%s found. Keep the newest backup safe, and restore it where the archive itself is damaged.\n", english.Count(len(trouble), "fault"))
	}
	return p.tellKept(d, words, asJSON)
}

// faults lists everything that is wrong in an archive, a line each. The error
// says that it could not be read at all.
func faults(ctx context.Context, a *holding.Archive, g *progress) ([]string, error) {
	if err := g.watch(ctx, a, "contents"); err != nil {
		return damage(err)
	}
	checked := a.Folder.Check(ctx)
	lines, rest := lacking(checked)
	if lines == nil {
		more, err := damage(rest)
		if err != nil {
			return nil, err
		}
		lines = more
	}
	found, err := a.Records.Verify(ctx, func(at archive.Progress) { g.at(at.Step, at.Done, at.All) })
	for _, f := range found {
		if f.What != "content" { // told already
			lines = append(lines, f.Words)
		}
	}
	more, err := damage(err)
	return append(lines, more...), err
}

// damage turns an error that tells of damage into lines, and leaves every other.
func damage(err error) ([]string, error) {
	if err == nil || !errors.Is(err, archive.ErrDamaged) {
		return nil, err
	}
	return strings.Split(err.Error(), "\n"), nil
}
