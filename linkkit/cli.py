"""The `linkkit` command: a name for each job, loaded only when that job is asked for."""

from importlib import import_module

import click

# name: (where its click command stands, what --help says of it)
COMMANDS = {
    "backup": ("linkkit.marking.backup:command", "Copy the gradebook, or put a copy back."),
    "by-hand": ("linkkit.marking.by_hand:command", "Write pages to mark prose and drawings by."),
    "describe": ("linkkit.describe:command", "Explain a machine: links, pairs, chains, motions, facts."),
    "design": ("linkkit.designing:command", "Find the dimensions that a brief asks for."),
    "export": ("linkkit.marking.export:command", "Write marks as tables, OneRoster results and LTI scores."),
    "lesson": ("linkkit.lesson.command:command", "Write a lesson and an assignment for a machine of your own."),
    "log": ("linkkit.report.log:command", "Print the log of a marking: every mark, why, what it changed."),
    "mark": ("linkkit.marking.mark:command", "Mark a cohort's scripts: sandboxed, in parallel, resumable."),
    "record": ("linkkit.report.study:command", "Print your record of study."),
    "rehearse": ("linkkit.marking.rehearse:command", "Mark invented scripts of known worth: a lecturer's dry run."),
    "remark": ("linkkit.marking.remark:command", "Mark again after a question was corrected."),
    "report": ("linkkit.report.command:command", "Say how the questions of an assignment worked."),
    "solutions": ("linkkit.solutions.command:command", "Write worked solutions for a student's own numbers."),
    "workbook": ("linkkit.workbook_server:workbook", "Open the notebooks in JupyterLab."),
}


class Commands(click.Group):
    """A command group whose members are imported when they are called.

    `linkkit --help` must be quick, and most jobs load something heavy: so the one-line helps stand in
    `COMMANDS` and a command's module is imported only to run it.
    """

    def list_commands(self, ctx):
        return list(COMMANDS)

    def get_command(self, ctx, cmd_name):
        if cmd_name not in COMMANDS:
            return None
        module, function = COMMANDS[cmd_name][0].split(":")
        return getattr(import_module(module), function)

    def format_commands(self, ctx, formatter):
        with formatter.section("Commands"):
            formatter.write_dl([(name, about) for name, (_, about) in COMMANDS.items()])

    def invoke(self, ctx):
        try:
            return super().invoke(ctx)
        except Exception as error:
            if not speaks_to_the_user(error):
                raise
            raise click.ClickException(sentence(error)) from error


def speaks_to_the_user(error):
    """Whether an error is the user's to mend, so that they get its sentence and no traceback.

    Every exception class of linkkit's own is written as a sentence for its reader; a file that is missing or
    may not be opened is the user's too. Anything else is a fault of ours and keeps its traceback.
    """
    ours = type(error).__module__.partition(".")[0] == "linkkit"
    return ours or (isinstance(error, OSError) and error.filename is not None)


def sentence(error):
    """What the user is told about `error`."""
    if isinstance(error, OSError) and error.filename is not None:
        return f"{error.filename}: {error.strerror}."
    return str(error)


@click.group(cls=Commands, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(package_name="linkkit")
def cli():
    """Planar linkages: look at them, move them, set work on them, mark it.

    `linkkit COMMAND --help` explains each command.
    """


def main():
    """Run the command line; the entry point of the `linkkit` script."""
    cli(prog_name="linkkit")


if __name__ == "__main__":
    main()
