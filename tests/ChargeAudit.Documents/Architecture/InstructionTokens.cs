using System.Reflection;
using System.Reflection.Emit;
using System.Reflection.Metadata;

namespace ChargeAudit.Documents.Architecture;

/// <summary>The types, methods and fields that a method's instructions name (ECMA-335, part III).</summary>
public static class InstructionTokens
{
    private static readonly Dictionary<int, OperandType> Operands = typeof(OpCodes).GetFields(BindingFlags.Public | BindingFlags.Static)
        .Select(f => (OpCode)f.GetValue(null)!).ToDictionary(c => c.Value & 0xFFFF, c => c.OperandType);

    /// <summary>Their metadata tokens, in the order of the code.</summary>
    /// <param name="code">The method's instructions.</param>
    public static IReadOnlyList<int> Of(BlobReader code)
    {
        var tokens = new List<int>();
        while (code.RemainingBytes > 0)
        {
            int instruction = code.ReadByte();
            if (instruction == 0xFE)
            {
                instruction = 0xFE00 | code.ReadByte();
            }

            switch (Operands[instruction])
            {
                case OperandType.InlineType or OperandType.InlineMethod or OperandType.InlineField or OperandType.InlineTok:
                    tokens.Add(code.ReadInt32());
                    break;
                case OperandType.InlineSwitch:
                    int branches = code.ReadInt32();
                    code.Offset += 4 * branches;
                    break;
                case OperandType.InlineI8 or OperandType.InlineR:
                    code.Offset += 8;
                    break;
                case OperandType.InlineNone:
                    break;
                case OperandType.ShortInlineBrTarget or OperandType.ShortInlineI or OperandType.ShortInlineVar:
                    code.Offset += 1;
                    break;
                case OperandType.InlineVar:
                    code.Offset += 2;
                    break;
                default:
                    code.Offset += 4;
                    break;
            }
        }

        return tokens;
    }
}
