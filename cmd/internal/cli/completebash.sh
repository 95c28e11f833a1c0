# Answers as they go on the line: as they are within an open quote, else with
# what bash would take for the end of a word escaped.
__wyewright_handle_standard_completion_case() {
    local tab=$'\t' quote='' typed=${cur//\\/} line name longest=0
    case $cur in
    \'* | \"*) quote=${cur:0:1} typed=${cur:1} ;;
    esac
    for line in "${completions[@]}"; do
        name=${line%%"$tab"*}
        [[ $name == "$typed"* ]] || continue
        line=${line#"$name"}
        [[ -n $quote ]] || printf -v name '%q' "$name"
        COMPREPLY+=("$name$line")
        ((${#name} <= longest)) || longest=${#name}
    done
    if ((${#COMPREPLY[*]} == 1)); then
        COMPREPLY[0]=${COMPREPLY[0]%%"$tab"*}
        # A second answer keeps the quote open where more is to come.
        [[ -z $quote || ${COMPREPLY[0]} != *[.=] ]] || COMPREPLY+=("${COMPREPLY[0]}…")
    elif [[ "${COMPREPLY[*]}" == *"$tab"* ]]; then
        __wyewright_format_comp_descriptions "$longest"
    fi
}
