package main

import (
	"fmt"
	"io"
	"strings"
)

// writePowerShell writes a script for PowerShell 5.1 and newer.
func writePowerShell(w io.Writer, tree []treeCommand) {
	fmt.Fprint(w, `# PowerShell completion for halfpour

Register-ArgumentCompleter -Native -CommandName halfpour -ScriptBlock {
    param($wordToComplete, $commandAst, $cursorPosition)

    $commands = [ordered]@{
`)
	for _, c := range tree {
		name := c.name
		if name == tree[0].name {
			name = ""
		}
		fmt.Fprintf(w, "        %s = @{\n            Usage = %s\n            Options = @(", psQuoted(name), psQuoted(c.usage))
		for i, o := range c.options {
			for j, d := range o.dashes() {
				if i+j > 0 {
					fmt.Fprint(w, ",")
				}
				fmt.Fprintf(w, "\n                @{ Name = %s; Usage = %s; Value = $%v; Words = %s; Endings = %s }", psQuoted(d), psQuoted(o.usage),
					o.value != "", psList(o.words), psEndings(o.takes))
			}
		}
		fmt.Fprintf(w, "\n            )\n            Words = %s\n            Endings = %s\n        }\n", psList(c.words), psEndings(c.takes))
	}
	fmt.Fprint(w, `    }

    $words = @($commandAst.CommandElements | Where-Object { $_.Extent.EndOffset -lt $cursorPosition } | ForEach-Object { $_.ToString() })
    $name = if ($words.Count -gt 1) { $words[1] } else { '' }
    $command = if ($commands.Contains($name)) { $commands[$name] } else { return }
    $before = $words[-1]

    $offer = {
        param($texts, $kind, $usage)
        foreach ($text in $texts) {
            if ($text -like "$wordToComplete*") {
                $tip = if ($usage) { $usage } else { $text }
                [System.Management.Automation.CompletionResult]::new($text, $text, $kind, $tip)
            }
        }
    }
    # folders, and files of these endings
    $files = {
        param($endings)
        foreach ($item in @(Get-ChildItem -Path "$wordToComplete*" -ErrorAction SilentlyContinue)) {
            if ($item.PSIsContainer -or $endings -contains $item.Extension.TrimStart('.')) {
                $parent = Split-Path -Path $wordToComplete -ErrorAction SilentlyContinue
                $text = if ($parent) { Join-Path $parent $item.Name } else { $item.Name }
                if ($text -match '[^\w./\\:~-]') { $text = "'" + $text.Replace("'", "''") + "'" }
                [System.Management.Automation.CompletionResult]::new($text, $item.Name, 'ProviderItem', $item.FullName)
            }
        }
    }

    foreach ($option in $command.Options) {
        if ($option.Value -and $option.Name -ceq $before) {
            & $offer $option.Words 'ParameterValue' ''
            if ($option.Endings.Count) { & $files $option.Endings }
            return
        }
    }
    if ($wordToComplete -like '-*') {
        foreach ($option in $command.Options) { & $offer $option.Name 'ParameterName' $option.Usage }
        return
    }
    if ($name -eq '') {
        foreach ($key in $commands.Keys) { if ($key) { & $offer $key 'Command' $commands[$key].Usage } }
        return
    }
    & $offer $command.Words 'ParameterValue' ''
    if ($command.Endings.Count) { & $files $command.Endings }
}
`)
}

func psEndings(kind argumentKind) string {
	if kind == takesFolder {
		return psList([]string{"/"}) // no file has it
	}
	return psList(kind.endings())
}

func psList(words []string) string {
	var quoted []string
	for _, w := range words {
		quoted = append(quoted, psQuoted(w))
	}
	return "@(" + strings.Join(quoted, ", ") + ")"
}

func psQuoted(s string) string { return "'" + strings.ReplaceAll(s, "'", "''") + "'" }
