//! The `swardplay` program.

fn main() -> std::process::ExitCode {
    swardplay::main()
}
