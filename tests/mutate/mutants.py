"""All mutants of a C source: each changes one token, or takes one statement away.

A mutant is known by its file, the text of its line and what it changes there, so that it stays the
same when lines above it come and go. The layout is clang-format's: a binary operator has white space
on both sides, a unary one has not.
"""
import collections
import hashlib
import re

Mutant = collections.namedtuple('Mutant', 'file line text change begin end put')

TOKEN = re.compile(r'''(?P<space>\s+)
    |(?P<number>(?:0[xX][0-9a-fA-F]+|(?:\d+\.\d*|\.\d+|\d+)(?:[eE][-+]?\d+)?)[uUlLfF]*)
    |(?P<word>[A-Za-z_]\w*)
    |(?P<mark><<=|>>=|->|\+\+|--|<<|>>|<=|>=|==|!=|&&|\|\||[-+*/%&|^]=|.)''', re.X | re.S)
HIDDEN = re.compile(r'''/\*.*?\*/|//[^\n]*|"(?:\\.|[^"\\\n])*"|'(?:\\.|[^'\\\n])+\'''', re.S)
DIRECTIVE = re.compile(r'^[ \t]*\#(?:[^\n]*\\\n)*[^\n]*', re.M)
# what is told to the compiler or the programmer alone
TOLD = re.compile(r'\b(?:assert|static_assert|_Static_assert|sizeof|SLEW_[A-Z_]*API)\b')

SWAPS = {'<': ('<=', '>='), '<=': ('<', '>'), '>': ('>=', '<='), '>=': ('>', '<'), '==': ('!=',),
         '!=': ('==',), '&&': ('||',), '||': ('&&',), '+': ('-',), '-': ('+',), '*': ('/',),
         '/': ('*',), '%': ('*',), '+=': ('-=',), '-=': ('+=',), '*=': ('/=',), '/=': ('*=',),
         '++': ('--',), '--': ('++',)}
UNSPACED = ('++', '--')
WORDS = {'fmin': 'fmax', 'fmax': 'fmin', 'true': 'false', 'false': 'true'}
KEYWORDS = {'return', 'if', 'else', 'for', 'while', 'do', 'switch', 'case', 'default', 'goto',
            'sizeof', 'typedef', 'struct', 'enum', 'union', 'static', 'const', 'extern'}


def blank(text):
    """White space of the same length, with the line breaks."""
    return re.sub(r'[^\n]', ' ', text)


def visible(source):
    """The source with comments, strings and directives blanked; offsets stay."""
    # a string becomes one word, so that it is still an operand
    source = HIDDEN.sub(lambda m: blank(m[0]) if m[0].startswith('/')
                        else '_' * len(m[0]), source)
    source = DIRECTIVE.sub(lambda m: blank(m[0]), source)
    for told in reversed(list(TOLD.finditer(source))):
        begin = end = told.end()
        if source[end:end + 1] == '(':
            end = closing(source, end) + 1
        source = source[:begin] + '_' * (end - begin) + source[end:]
    return source


def closing(source, begin):
    """Where the bracket at `begin` is closed."""
    depth = 0
    for at in range(begin, len(source)):
        if source[at] in '([{':
            depth += 1
        elif source[at] in ')]}':
            depth -= 1
            if depth == 0:
                return at
    raise ValueError('a bracket is not closed')


def other_numbers(text):
    """The number one more and one less."""
    bare = text.rstrip('uUlL') if 'x' in text.lower() else text.rstrip('uUlLfF')
    suffix = text[len(bare):]
    if '.' in bare or ('e' in bare.lower() and 'x' not in bare.lower()):
        return ['(%s %s 1.0)' % (text, sign) for sign in '+-']
    value = int(bare, 8 if re.fullmatch('0[0-7]+', bare) else 0)
    return ['%d%s' % (value + 1, suffix)] + (
        ['%d%s' % (value - 1, suffix)] if value > 0 else ['(-1)'] if not suffix else [])


def is_length(source, token, before):
    """Whether a number is the length of an array that is declared: a shorter one is no other behavior."""
    if source[token.start() - 1] != '[' or source[token.end():token.end() + 1] != ']':
        return False
    begin = max(source.rfind(c, 0, token.start()) for c in ';{}(') + 1
    return bool(re.match(r'\s*(?:(?:static|const|unsigned|struct)\s+)*\w+\s+\**\w+', source[begin:token.start()])
                and not re.match(r'\s*(?:return|case|else)\b', source[begin:token.start()]))


def statements(source, tokens):
    """Expression statements, `break` and `continue`: offsets of begin and end without the semicolon."""
    depth = 0
    for k, token in enumerate(tokens):
        mark = token[0]
        depth += (mark == '{') - (mark == '}')
        starts = depth > 0 and (mark in (';', '{', '}', 'else') or mark == ')' and k + 1 < len(tokens))
        if not starts or k + 2 >= len(tokens):
            continue
        first, second = tokens[k + 1], tokens[k + 2]
        if mark == ')' and not controls(source, token.start()):
            continue
        if not (first['word'] or first[0] in ('*', '++', '--')):
            continue
        if first['word'] in KEYWORDS or (first['word'] and (second['word'] or second[0] == ':')):
            continue
        if first['word'] and second[0] == '*' and source[second.end()] not in ' \n':
            continue  # a declaration of a pointer
        end, nested = None, 0
        for token_after in tokens[k + 1:]:
            after = token_after[0]
            nested += (after in '([{') - (after in ')]}')
            if nested < 0:
                break
            if after == ';' and nested == 0:
                end = token_after.start()
                break
            if after == ',' and nested == 0:
                break
        if end:
            yield first.start(), end


def controls(source, at):
    """Whether the bracket closed at `at` belongs to if, for or while."""
    depth = 0
    for begin in range(at, -1, -1):
        depth += (source[begin] == ')') - (source[begin] == '(')
        if depth == 0:
            return bool(re.search(r'\b(?:if|for|while)\s*$', source[:begin]))
    return False


def changes(source):
    """Each change of the visible source: begin, end, what is put there, its name."""
    tokens = [t for t in TOKEN.finditer(source) if not t['space']]
    for k, token in enumerate(tokens):
        text, begin, end = token[0], token.start(), token.end()
        before, after = source[begin - 1:begin], source[end:end + 1]
        spaced = before.isspace() and after.isspace()
        if text in SWAPS and (spaced or text in UNSPACED):
            for put in SWAPS[text]:
                yield begin, end, put, '%s to %s' % (text, put)
        elif text == '-' and not spaced:
            yield begin, end, '', 'without -'
        elif text == '!':
            yield begin, end, '', 'without !'
        elif text in WORDS:
            yield begin, end, WORDS[text], '%s to %s' % (text, WORDS[text])
        elif token['number'] and not is_length(source, token, tokens[k - 1]):
            for put in other_numbers(text):
                yield begin, end, put, '%s to %s' % (text, put)
        elif text in ('if', 'while') and k + 1 < len(tokens) and tokens[k + 1][0] == '(':
            inside = tokens[k + 1].end()
            close = closing(source, inside - 1)
            yield inside, close, None, '%s not' % text
    for begin, end in statements(source, tokens):
        yield begin, end, blank(source[begin:end]), 'without the statement'


def mutants(file, source):
    """All mutants of a source, in the order of the text."""
    shown = visible(source)
    lines = source.split('\n')
    starts = [0]
    for line in lines:
        starts.append(starts[-1] + len(line) + 1)
    counts = collections.Counter(line.strip() for line in lines)
    seen_lines, which = collections.Counter(), []
    for line in lines:
        seen_lines[line.strip()] += 1
        nth = seen_lines[line.strip()]
        which.append(line.strip() + (' [%d]' % nth if counts[line.strip()] > 1 else ''))
    named = collections.Counter()
    found = []
    row = 0
    for begin, end, put, name in sorted(changes(shown), key=lambda c: (c[0], c[3])):
        while starts[row + 1] <= begin:
            row += 1
        if put is None:
            put = '!(%s)' % source[begin:end]
        named[row, name] += 1
        nth = named[row, name]
        found.append(Mutant(file, row + 1, which[row], name + (' [%d]' % nth if nth > 1 else ''),
                            begin, end, put))
    return found


def applied(mutant, source):
    return source[:mutant.begin] + mutant.put + source[mutant.end:]


def rank(seed, mutant):
    """A number that follows from the seed and the mutant: those with the least are a random sample, and
    stay so when others come and go."""
    name = '\0'.join((str(seed), mutant.file, mutant.text, mutant.change))
    return int.from_bytes(hashlib.sha256(name.encode()).digest()[:8], 'big')
