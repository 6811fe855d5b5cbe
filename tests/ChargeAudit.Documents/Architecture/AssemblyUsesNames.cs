using System.Collections.Immutable;
using System.Reflection.Metadata;

namespace ChargeAudit.Documents.Architecture;

public sealed partial class AssemblyUses
{
    /// <summary>Notes every type that a signature or an instruction names.</summary>
    private sealed class NamesInSignature(AssemblyUses owner, CompiledType from) : ISignatureTypeProvider<bool, object?>
    {
        public void Add(EntityHandle handle)
        {
            if (handle.IsNil)
            {
                return;
            }

            var metadata = owner._metadata;
            switch (handle.Kind)
            {
                case HandleKind.TypeDefinition:
                    Note(owner.Named((TypeDefinitionHandle)handle));
                    break;
                case HandleKind.TypeReference:
                    Note(owner.Named((TypeReferenceHandle)handle));
                    break;
                case HandleKind.TypeSpecification:
                    metadata.GetTypeSpecification((TypeSpecificationHandle)handle).DecodeSignature(this, null);
                    break;
                case HandleKind.MethodDefinition:
                    Note(owner.Named(metadata.GetMethodDefinition((MethodDefinitionHandle)handle).GetDeclaringType()));
                    break;
                case HandleKind.FieldDefinition:
                    Note(owner.Named(metadata.GetFieldDefinition((FieldDefinitionHandle)handle).GetDeclaringType()));
                    break;
                case HandleKind.MethodSpecification:
                    var generic = metadata.GetMethodSpecification((MethodSpecificationHandle)handle);
                    generic.DecodeSignature(this, null);
                    Add(generic.Method);
                    break;
                case HandleKind.MemberReference:
                    var member = metadata.GetMemberReference((MemberReferenceHandle)handle);
                    Add(member.Parent);
                    if (member.GetKind() == MemberReferenceKind.Method)
                    {
                        member.DecodeMethodSignature(this, null);
                    }
                    else
                    {
                        member.DecodeFieldSignature(this, null);
                    }

                    break;
            }
        }

        private void Note(CompiledType? to)
        {
            if (to is { } named && named != from && Written(named))
            {
                owner._uses.Add(new TypeUse(from, named));
            }
        }

        public bool GetTypeFromDefinition(MetadataReader reader, TypeDefinitionHandle handle, byte rawTypeKind)
        {
            Add(handle);
            return true;
        }

        public bool GetTypeFromReference(MetadataReader reader, TypeReferenceHandle handle, byte rawTypeKind)
        {
            Add(handle);
            return true;
        }

        public bool GetTypeFromSpecification(MetadataReader reader, object? genericContext, TypeSpecificationHandle handle,
            byte rawTypeKind)
        {
            Add(handle);
            return true;
        }

        public bool GetArrayType(bool elementType, ArrayShape shape) => true;

        public bool GetByReferenceType(bool elementType) => true;

        public bool GetFunctionPointerType(MethodSignature<bool> signature) => true;

        public bool GetGenericInstantiation(bool genericType, ImmutableArray<bool> typeArguments) => true;

        public bool GetGenericMethodParameter(object? genericContext, int index) => true;

        public bool GetGenericTypeParameter(object? genericContext, int index) => true;

        public bool GetModifiedType(bool modifier, bool unmodifiedType, bool isRequired) => true;

        public bool GetPinnedType(bool elementType) => true;

        public bool GetPointerType(bool elementType) => true;

        public bool GetPrimitiveType(PrimitiveTypeCode typeCode) => true;

        public bool GetSZArrayType(bool elementType) => true;
    }
}
