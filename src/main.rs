//! The `lampwright` command.

fn main() -> std::process::ExitCode {
    lampwright::cli::run()
}
