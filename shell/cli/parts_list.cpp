// Prints what is in the box as JSON, for web/build.
#include "shell/cli/command.h"

int main() { return tiepoint::cli::parts({"--json"}); }
