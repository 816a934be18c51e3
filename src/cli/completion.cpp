#include "base/errors.h"
#include "cli/help.h"

#include <string>
#include <vector>

namespace gp {
namespace {

std::string command_names() {
  std::string names;
  for (const CommandRecord& command : commands()) {
    if (!command.hidden) names += (names.empty() ? "" : " ") + command.name;
  }
  return names;
}

std::string joined(const std::vector<std::string>& words) {
  std::string text;
  for (const std::string& word : words) text += (text.empty() ? "" : " ") + word;
  return text;
}

/// For bash: after an option its choices or files, after a dash the options of the command.
std::string bash_completion() {
  std::string text =
      "# bash completion for greasepaint, written by `greasepaint completion bash`\n"
      "_greasepaint() {\n"
      "  local word=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD-1]}\n"
      "  local command=${COMP_WORDS[1]}\n"
      "  COMPREPLY=()\n"
      "  if [ \"$COMP_CWORD\" -eq 1 ]; then\n"
      "    COMPREPLY=($(compgen -W \"" +
      command_names() +
      "\" -- \"$word\"))\n"
      "    return\n"
      "  fi\n"
      "  case \"$command $before\" in\n";
  for (const CommandRecord& command : commands()) {
    if (command.hidden) continue;
    for (const OptionRecord& option : command.options) {
      if (option.value.empty()) continue;
      const std::string does =
          option.files
              ? (option.value == "DIR" ? "compgen -d -- \"$word\"" : "compgen -f -- \"$word\"")
              : "compgen -W \"" + joined(option.choices) + "\" -- \"$word\"";
      text += "    \"" + command.name + " --" + option.name + "\") COMPREPLY=($(" + does +
              ")); return;;\n";
    }
  }
  text += "  esac\n  case \"$command\" in\n";
  for (const CommandRecord& command : commands()) {
    if (command.hidden) continue;
    std::string options;
    for (const OptionRecord& option : command.options) {
      options += (options.empty() ? "--" : " --") + option.name;
    }
    const bool paths = !command.arguments.empty() && command.arguments[0].choices.empty();
    std::string others = paths ? "compgen -f -- \"$word\"" : "compgen -W \"\" -- \"$word\"";
    if (!command.arguments.empty() && !paths) {
      others = "compgen -W \"" + joined(command.arguments[0].choices) + "\" -- \"$word\"";
    }
    text += "    " + command.name +
            ")\n      case \"$word\" in\n        -*) COMPREPLY=($(compgen -W \"" + options +
            "\" -- \"$word\"));;\n        *) COMPREPLY=($(" + others + "));;\n      esac;;\n";
  }
  text +=
      "  esac\n"
      "}\n"
      "complete -o filenames -F _greasepaint greasepaint\n";
  return text;
}

/// In single quotes for zsh and fish, whose rules differ only in what we never write.
std::string quoted(const std::string& text) {
  std::string result;
  for (const char character : text) {
    if (character == '\'') {
      result += "'\\''";
    } else if (character == '[' || character == ']' || character == ':') {
      result += std::string("\\") + character;
    } else {
      result += character;
    }
  }
  return result;
}

std::string zsh_completion() {
  std::string text =
      "#compdef greasepaint\n"
      "# written by `greasepaint completion zsh`\n"
      "_greasepaint() {\n"
      "  if (( CURRENT == 2 )); then\n"
      "    compadd " +
      command_names() +
      "\n"
      "    return\n"
      "  fi\n"
      "  local command=${words[2]}\n"
      "  shift words; (( CURRENT-- ))\n"
      "  case $command in\n";
  for (const CommandRecord& command : commands()) {
    if (command.hidden) continue;
    text += "    " + command.name + ") _arguments";
    for (const OptionRecord& option : command.options) {
      text += " \\\n      '--" + option.name + "[" + quoted(option.text) + "]";
      if (option.files) {
        text += ":" + option.value + (option.value == "DIR" ? ":_files -/" : ":_files");
      } else if (!option.value.empty()) {
        text += ":" + option.value + ":(" + joined(option.choices) + ")";
      }
      text += "'";
    }
    for (const ArgumentRecord& argument : command.arguments) {
      text += std::string(" \\\n      '") + (argument.needed ? "" : ":") + ":" + argument.name +
              ":" + (argument.choices.empty() ? "_files" : "(" + joined(argument.choices) + ")") +
              "'";
    }
    text += ";;\n";
  }
  return text + "  esac\n}\n_greasepaint \"$@\"\n";
}

std::string fish_completion() {
  std::string text =
      "# fish completion for greasepaint, written by `greasepaint completion fish`\n"
      "complete -c greasepaint -f\n";
  for (const CommandRecord& command : commands()) {
    if (command.hidden) continue;
    text += "complete -c greasepaint -n __fish_use_subcommand -a " + command.name + " -d '" +
            command.summary + "'\n";
    const std::string within =
        "complete -c greasepaint -n '__fish_seen_subcommand_from " + command.name + "'";
    for (const ArgumentRecord& argument : command.arguments) {
      text += within +
              (argument.choices.empty() ? " -F" : " -a '" + joined(argument.choices) + "'") + "\n";
    }
    for (const OptionRecord& option : command.options) {
      text += within + " -l " + option.name;
      if (option.files) {
        text += " -r -F";
      } else if (!option.value.empty()) {
        text += " -x -a '" + joined(option.choices) + "'";
      }
      text += "\n";
    }
  }
  return text;
}

}  // namespace

std::string completion(const std::string& shell) {
  if (shell == "bash") return bash_completion();
  if (shell == "zsh") return zsh_completion();
  if (shell == "fish") return fish_completion();
  throw InternalError("no completion for the shell " + shell);
}

}  // namespace gp
